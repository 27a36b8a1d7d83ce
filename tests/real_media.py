"""Small pictures, sounds and documents that are what their names say, and hold nothing else."""

from __future__ import annotations

import io
import wave

from PIL import Image
from pypdf import PdfWriter
from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

from handbook.cleaning.cleaned import cleaned


def wav(seconds: int) -> bytes:
    """A sound of silence, 16 bits at 8,000 samples a second."""
    with io.BytesIO() as file:
        with wave.open(file, "wb") as writer:
            writer.setparams((1, 2, 8000, 0, "NONE", ""))
            writer.writeframes(bytes(2 * 8000 * seconds))
        return file.getvalue()


def mp3(frames: int) -> bytes:
    """A sound of empty frames: MPEG-1 layer III, 128 kbit/s, 44.1 kHz, 417 bytes a frame."""
    return (b"\xff\xfb\x90\x64" + bytes(413)) * frames


def picture(kind: str = "PNG") -> bytes:
    with io.BytesIO() as file:
        Image.new("L", (2, 1)).save(file, kind)
        return file.getvalue()


def large_picture() -> bytes:
    """A picture of noise, of more than 100 kB."""
    with io.BytesIO() as file:
        Image.effect_noise((400, 400), 64).save(file, "PNG")
        return file.getvalue()


def document(words: str = "") -> bytes:
    """A page with a line of words, as a PDF without a note of who made it."""
    with io.BytesIO() as file:
        writer = PdfWriter()
        page = writer.add_blank_page(100, 100)
        shown = DecodedStreamObject()
        shown.set_data(f"BT /F 12 Tf 9 9 Td ({words}) Tj ET".encode())
        page[NameObject("/Contents")] = writer._add_object(shown)
        font = {"/Type": "/Font", "/Subtype": "/Type1", "/BaseFont": "/Helvetica"}
        named = {NameObject(key): NameObject(value) for key, value in font.items()}
        fonts = DictionaryObject({NameObject("/F"): DictionaryObject(named)})
        page[NameObject("/Resources")] = DictionaryObject({NameObject("/Font"): fonts})
        writer.metadata = None
        writer.write(file)
        return cleaned(file.getvalue(), "a.pdf")


def real_media(name: str) -> bytes:
    """Give the bytes of a file by the ending of its name."""
    made = {
        "wav": lambda: wav(1),
        "mp3": lambda: mp3(40),
        "png": picture,
        "jpg": lambda: picture("JPEG"),
        "jpeg": lambda: picture("JPEG"),
        "pdf": document,
    }
    return made[name.rpartition(".")[2].lower()]()  # type: ignore[no-untyped-call]
