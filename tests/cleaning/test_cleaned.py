"""What is published of a media file is its picture or sound, bit by bit, and nothing beside it.

Pictures are read by Pillow, documents by pypdf, lengths and tags of sounds by tinytag, samples
by the standard library's wave. The sounds in `sounds/` are a second of a sine tone, written by
libsndfile 1.2.2 (Vorbis, Opus, MP3) and libav 62 (AAC) with a title, an artist and a comment;
that the samples of what is left are the same was seen with libav once, when they were made.
"""

from __future__ import annotations

import io
import random
import struct
import wave
import zlib
from pathlib import Path

import pytest
from PIL import Image, ImageCms, ImageOps, PngImagePlugin
from pypdf import PdfReader, PdfWriter
from pypdf.annotations import Link, Text
from pypdf.generic import ArrayObject, DictionaryObject, Fit, NameObject, TextStringObject
from tinytag import TinyTag

from handbook.cleaning.cleaned import cleaned
from handbook.cleaning.model import UncleanError
from handbook.cleaning.pdf import text_of_pdf
from tests.real_media import document, mp3, picture, wav

WHO = "Mia Castillo"
NOTE = WHO.encode()
SOUNDS = Path(__file__).parent / "sounds"
COLORS = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def noisy() -> Image.Image:
    return Image.frombytes("RGB", (40, 24), random.Random(5).randbytes(40 * 24 * 3))


def saved(kind: str, orientation: int, **how: object) -> bytes:
    """Save a picture with its colors, Exif data that tell who, where and which way up, and XMP."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010E], exif[0x8825] = orientation, WHO, {1: "N", 2: (40.0, 1.0, 2.0)}
    if kind == "PNG":
        said = PngImagePlugin.PngInfo()
        said.add_text("Author", WHO)
        said.add_text("Comment", WHO, zip=True)
        said.add_itxt("XML:com.adobe.xmp", WHO)
        how["pnginfo"] = said
    elif kind == "JPEG":
        how |= {"comment": WHO, "xmp": b"<x:xmpmeta>%s</x:xmpmeta>" % NOTE}
    else:
        how["xmp"] = NOTE
    with io.BytesIO() as file:
        noisy().save(file, kind, exif=exif, icc_profile=COLORS, **how)
        return file.getvalue()


PICTURES: list[tuple[str, str, dict[str, object]]] = [
    ("a.jpg", "JPEG", {}),
    ("a.JPEG", "JPEG", {"progressive": True, "restart_marker_rows": 1}),
    ("a.png", "PNG", {}),
    ("a.webp", "WEBP", {}),
    ("a.webp", "WEBP", {"lossless": True}),
]


@pytest.mark.parametrize("orientation", [1, 3, 6])
@pytest.mark.parametrize(("name", "kind", "how"), PICTURES)
def test_a_picture_keeps_what_is_seen_alone(
    name: str, kind: str, how: dict[str, object], orientation: int
) -> None:
    raw = saved(kind, orientation, **how) + NOTE
    clean = cleaned(raw, name)
    before, after = Image.open(io.BytesIO(raw)), Image.open(io.BytesIO(clean))
    seen, left = ImageOps.exif_transpose(before), ImageOps.exif_transpose(after)
    assert left.size == seen.size
    assert left.tobytes() == seen.tobytes()
    assert after.info["icc_profile"] == COLORS
    assert dict(after.getexif()) == ({0x0112: orientation} if orientation > 1 else {})
    assert NOTE not in clean
    assert "comment" not in after.info
    assert not getattr(after, "text", {})
    assert cleaned(clean, name) == clean


def test_a_picture_that_moves_keeps_its_frames() -> None:
    for name, kind in (("a.png", "PNG"), ("a.webp", "WEBP")):
        with io.BytesIO() as file:
            noisy().save(file, kind, save_all=True, append_images=[noisy().rotate(90)])
            clean = cleaned(file.getvalue(), name)
        assert getattr(Image.open(io.BytesIO(clean)), "n_frames", 0) == 2


@pytest.mark.parametrize(("orientation", "flag"), [(1, 0), (6, 0x08)])
def test_a_webp_says_truly_what_it_holds(orientation: int, flag: int) -> None:
    """The flags of RFC 9649, 2.7.1.2: colors 0x20, Exif 0x08, XMP 0x04."""
    clean = cleaned(saved("WEBP", orientation), "a.webp")
    assert clean[12:16] == b"VP8X"
    assert clean[20] & 0x2C == 0x20 | flag
    assert (b"EXIF" in clean) is bool(flag)


def test_small_pictures_within_a_jpeg_and_parts_of_programs_go() -> None:
    raw = saved("JPEG", 1)
    jfif = raw.index(b"JFIF\0") - 4
    length = int.from_bytes(raw[jfif + 2 : jfif + 4])
    small = b"\xff\xe0" + struct.pack(">H", 16 + 12) + b"JFIF\0\1\1\0\0\1\0\1\2\2" + NOTE
    extra = b"".join(
        bytes((0xFF, marker)) + struct.pack(">H", 2 + len(NOTE)) + NOTE
        for marker in (0xE1, 0xE2, 0xED, 0xEC, 0xEF, 0xFE)
    )
    spoilt = raw[:jfif] + small + extra + raw[jfif + 2 + length :]
    assert Image.open(io.BytesIO(spoilt)).size == (40, 24)
    assert NOTE in spoilt
    clean = cleaned(spoilt, "a.jpg")
    assert NOTE not in clean
    assert Image.open(io.BytesIO(clean)).tobytes() == Image.open(io.BytesIO(raw)).tobytes()


def chunk(name: bytes, held: bytes) -> bytes:
    return name + struct.pack("<I", len(held)) + held + bytes(len(held) % 2)


def test_a_wave_keeps_its_samples_alone() -> None:
    plain = wav(1)
    more = chunk(b"bext", NOTE) + chunk(b"iXML", NOTE) + chunk(b"LIST", b"INFOIART" + NOTE)
    body = plain[12:36] + more + plain[36:] + chunk(b"id3 ", b"ID3" + NOTE)
    raw = b"RIFF" + struct.pack("<I", len(body) + 4) + b"WAVE" + body + NOTE
    clean = cleaned(raw, "a.wav")
    assert clean == plain
    with wave.open(io.BytesIO(clean)) as sound:
        assert (sound.getnframes(), sound.readframes(8000)) == (8000, bytes(16_000))


def test_a_wave_of_which_the_end_was_not_known_gets_one() -> None:
    plain = wav(1)
    raw = plain[:4] + b"\xff" * 4 + plain[8:40] + b"\xff" * 4 + plain[44:]
    assert cleaned(raw, "a.wav") == plain


def test_an_mp3_keeps_its_frames_alone() -> None:
    head = b"ID3\4\0\x10\0\0\1\0" + NOTE.ljust(128, b"\0") + b"3DI\4\0\x10\0\0\1\0"
    between = b"\0" * 30 + NOTE
    after = b"APETAGEX" + NOTE + b"TAG" + NOTE.ljust(125, b"\0")
    assert cleaned(head + mp3(20) + between + mp3(20) + after, "a.mp3") == mp3(40)


@pytest.mark.parametrize(
    ("version", "kbits", "length"),
    # Bytes of a frame by ISO/IEC 11172-3, 2.4.3.1, and 13818-3: 144 (or 72) x bit rate / rate.
    [(b"\xff\xfb\x90", 128, 417), (b"\xff\xf3\x80", 64, 208), (b"\xff\xe3\x48", 32, 288), (b"\xff\xfd\x90", 160, 522)],
)  # fmt: skip
def test_frames_of_every_kind_are_known_by_their_length(
    version: bytes, kbits: int, length: int
) -> None:
    frames = (version + b"\x64" + bytes(length - 4)) * 3
    assert cleaned(frames + NOTE, "a.mp3") == frames


@pytest.mark.parametrize("name", ["tone.mp3", "tone.m4a", "vorbis.ogg", "opus.ogg"])
def test_a_sound_keeps_its_length_and_no_tag(name: str) -> None:
    raw = (SOUNDS / name).read_bytes()
    clean = cleaned(raw + NOTE if name != "tone.m4a" else raw, name)
    before = TinyTag.get(name, file_obj=io.BytesIO(raw))
    after = TinyTag.get(name, file_obj=io.BytesIO(clean))
    assert (before.title, before.artist) == (f"{WHO} solo", WHO)
    assert (after.title, after.artist, after.comment) == (None, None, None)
    assert after.duration == pytest.approx(before.duration)
    assert NOTE in raw
    assert NOTE not in clean
    assert cleaned(clean, name) == clean


def ogg_packets(raw: bytes) -> list[bytes]:
    """Read packets by RFC 3533, 6; every page's sum and number is reckoned by its definition."""
    packets, packet, at, number = [], b"", 0, 0
    while at < len(raw):
        assert raw[at : at + 5] == b"OggS\0"
        assert int.from_bytes(raw[at + 18 : at + 22], "little") == number
        table = raw[at + 27 : at + 27 + raw[at + 26]]
        end = at + 27 + len(table) + sum(table)
        page = raw[at : at + 22] + bytes(4) + raw[at + 26 : end]
        assert int.from_bytes(raw[at + 22 : at + 26], "little") == remainder(page)
        body = at + 27 + len(table)
        for length in table:
            packet += raw[body : body + length]
            body += length
            if length < 255:
                packets.append(packet)
                packet = b""
        at, number = end, number + 1
    return packets


def remainder(page: bytes) -> int:
    """Divide by the polynomial 0x04C11DB7, bit by bit, from the highest on (RFC 3533, 6)."""
    left = 0
    for byte in page:
        left ^= byte << 24
        for _ in range(8):
            left = (left << 1 ^ 0x04C11DB7 if left & 0x80000000 else left << 1) & 0xFFFFFFFF
    return left


@pytest.mark.parametrize(
    ("name", "comments"),
    [
        ("vorbis.ogg", b"\3vorbis\0\0\0\0\0\0\0\0\1"),
        ("opus.ogg", b"OpusTags\0\0\0\0\0\0\0\0"),
    ],
)
def test_an_ogg_keeps_every_packet_but_the_comments(name: str, comments: bytes) -> None:
    raw = (SOUNDS / name).read_bytes()
    before, after = ogg_packets(raw), ogg_packets(cleaned(raw, name))
    assert after == [before[0], comments, *before[2:]]
    assert len(after) > 20


def test_an_mp4_keeps_each_byte_of_sound_where_it_was() -> None:
    raw = (SOUNDS / "tone.m4a").read_bytes()
    clean = cleaned(raw, "a.m4a")
    assert len(clean) == len(raw)
    for name in (b"mdat", b"stbl", b"stsd"):  # with all that is in them
        at = raw.index(name) - 4
        end = at + int.from_bytes(raw[at : at + 4])
        assert clean[at:end] == raw[at:end]
    for name, stays in ((b"udta", False), (b"meta", False), (b"mdat", True), (b"stco", True)):
        assert name in raw
        assert (name in clean) is stays
    at = raw.index(b"mvhd") + 8
    assert raw[at : at + 8] != bytes(8) == clean[at : at + 8]


def test_a_document_keeps_its_pages_and_links_alone() -> None:
    writer = PdfWriter()
    with io.BytesIO() as shown:
        noisy().save(shown, "PDF", author=WHO, title=WHO, subject=WHO)
        writer.append(PdfReader(io.BytesIO(shown.getvalue())))
    writer.add_metadata({"/Author": WHO, "/Company": WHO})
    writer.xmp_metadata = b"<x>%s</x>" % NOTE
    writer.add_attachment("roster.txt", NOTE)
    script = {NameObject("/S"): NameObject("/JavaScript"), NameObject("/JS"): TextStringObject(WHO)}
    writer.root_object[NameObject("/OpenAction")] = DictionaryObject(script)
    writer.add_annotation(0, Text(rect=(0, 0, 20, 20), text=WHO))
    writer.add_annotation(0, Link(rect=(0, 0, 9, 9), target_page_index=0, fit=Fit(fit_type="/Fit")))
    with io.BytesIO() as made:
        writer.write(made)
        raw = made.getvalue()
    clean = cleaned(raw + b"%" + NOTE, "a.pdf")
    assert NOTE in raw
    assert NOTE not in clean
    before, after = PdfReader(io.BytesIO(raw)), PdfReader(io.BytesIO(clean))
    assert not after.metadata
    assert after.xmp_metadata is None
    assert not after.attachments
    notes = after.pages[0]["/Annots"]
    assert isinstance(notes, ArrayObject)
    kinds = [one.get_object()["/Subtype"] for one in notes]
    assert kinds == ["/Link"]
    assert after.pages[0].get_contents() == before.pages[0].get_contents()
    assert after.pages[0].images[0].data == before.pages[0].images[0].data
    assert cleaned(clean, "a.pdf") == clean


def test_an_earlier_version_of_a_document_goes() -> None:
    first = PdfWriter()
    first.add_blank_page(100, 100)
    first.add_metadata({"/Author": WHO})
    with io.BytesIO() as made:
        first.write(made)
        later = PdfWriter(io.BytesIO(made.getvalue()), incremental=True)
    later.add_blank_page(200, 200)
    later.add_metadata({"/Author": "nobody"})
    with io.BytesIO() as made:
        later.write(made)
        raw = made.getvalue()
    assert NOTE in raw
    clean = cleaned(raw, "a.pdf")
    assert NOTE not in clean
    assert len(PdfReader(io.BytesIO(clean)).pages) == 2


def locked() -> bytes:
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    writer.encrypt("open")
    with io.BytesIO() as made:
        writer.write(made)
        return made.getvalue()


CRITICAL = b"\0\0\0\0CgBI" + zlib.crc32(b"CgBI").to_bytes(4)


@pytest.mark.parametrize(
    ("name", "raw", "why"),
    [
        ("roster.png", b"Flute: chairs 1 to 5\n", "is no PNG picture, as its name says, but of another kind"),
        ("roster.pdf", b"PK\3\4 a word processor's", "is no PDF document, as its name says, but of another kind"),
        ("a.png", picture("JPEG"), "is no PNG picture, as its name says, but really a JPEG picture"),
        ("a.mp3", wav(1), "is no MP3 sound, as its name says, but really a WAVE sound"),
        ("a.svg", b"<svg/>", "is of a kind that is not published"),
        ("a", b"", "is of a kind that is not published"),
        ("a.jpg", picture("JPEG")[:-20], "is cut off or damaged"),
        ("a.jpg", b"\xff\xd8\xff\xd9", "is cut off or damaged"),
        ("a.png", picture()[:-8], "is cut off or damaged"),
        ("a.png", picture()[:8] + CRITICAL + picture()[8:], "is of a kind that browsers do not all show"),
        ("a.webp", picture("WEBP")[:-8], "is cut off or damaged"),
        ("a.wav", wav(1)[:-8], "is cut off or damaged"),
        ("a.mp3", b"ID3\4\0\0\0\0\0\0" + b"words" * 99, "is cut off or damaged"),
        ("a.ogg", (SOUNDS / "vorbis.ogg").read_bytes()[:-9], "is cut off or damaged"),
        ("a.ogg", (SOUNDS / "vorbis.ogg").read_bytes() * 2, "holds more than one sound"),
        ("a.m4a", (SOUNDS / "tone.m4a").read_bytes()[:-9], "is cut off or damaged"),
        ("a.m4a", (SOUNDS / "tone.m4a").read_bytes().replace(b"soun", b"vide"), "holds more than sound"),
        ("a.pdf", document()[:90], "is cut off or damaged"),
        ("a.pdf", locked(), "is locked with a password"),
        ("a.jpg", b"\xff\xd8\xff\xda\0\2" + b"\xff" * 2_000_000, "is cut off or damaged"),
        ("a.mp3", b"ID3\4\0\0\0\0\0\0" + b"\xff" * 200_000, "is cut off or damaged"),
    ],
)  # fmt: skip
def test_what_cannot_be_cleaned_is_refused(name: str, raw: bytes, why: str) -> None:
    with pytest.raises(UncleanError) as caught:
        cleaned(raw, name)
    assert str(caught.value) == why


@pytest.mark.parametrize(
    ("name", "raw"),
    [
        *[(name, saved(kind, 6, **how)) for name, kind, how in PICTURES],
        *[(path.name, path.read_bytes()) for path in sorted(SOUNDS.iterdir())],
        ("a.wav", wav(1)[:600]),
        ("a.pdf", document()),
    ],
)
def test_whatever_is_damaged_is_cleaned_or_refused(name: str, raw: bytes) -> None:
    chance = random.Random(7)
    for _ in range(60):
        spoilt = bytearray(raw[: chance.randrange(len(raw)) if chance.random() < 0.3 else len(raw)])
        for _ in range(chance.randrange(6)):
            if spoilt:
                spoilt[chance.randrange(len(spoilt))] = chance.randrange(256)
        try:
            clean = cleaned(bytes(spoilt), name)
        except UncleanError:
            continue
        assert cleaned(clean, name) == clean


def test_a_documents_words_can_be_read() -> None:
    assert list(text_of_pdf(b"%PDF-1.4 broken", 3)) == []
