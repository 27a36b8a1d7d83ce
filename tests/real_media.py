"""Small pictures, sounds and documents that are what their names say, and hold nothing else."""

from __future__ import annotations

import io
import wave

from PIL import Image
from pypdf import PdfWriter


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


def document() -> bytes:
    """An empty page, as a PDF without a note of who made it."""
    with io.BytesIO() as file:
        writer = PdfWriter()
        writer.add_blank_page(100, 100)
        writer.metadata = None
        writer.write(file)
        return file.getvalue()


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
    return made[name.rpartition(".")[2].lower()]()
