"""Sizes and lengths of media; lengths against the standard library's wave."""

from __future__ import annotations

import wave
from pathlib import Path

import pytest

from handbook.loader.media_files import media_files


def write_wave(path: Path, frames: int, rate: int, channels: int, width: int) -> float:
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(channels)
        sound.setsampwidth(width)
        sound.setframerate(rate)
        sound.writeframes(bytes(frames * channels * width))
    with wave.open(str(path), "rb") as sound:
        return sound.getnframes() / sound.getframerate()


@pytest.mark.parametrize(
    ("frames", "rate", "channels", "width"),
    [(44100, 44100, 1, 2), (11025, 22050, 2, 2), (8000, 8000, 1, 1), (144000, 48000, 2, 3)],
)
def test_a_waves_length_is_that_of_the_standard_library(
    frames: int, rate: int, channels: int, width: int, tmp_path: Path
) -> None:
    seconds = write_wave(tmp_path / "tone.wav", frames, rate, channels, width)
    found = media_files(tmp_path, ["tone.wav"])["tone.wav"]
    assert found.seconds == pytest.approx(seconds)
    assert found.size == (tmp_path / "tone.wav").stat().st_size


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("cut.wav", b"RIFF"),
        ("text.mp3", b"This is a text.\n"),
        ("empty.ogg", b""),
        ("picture.m4a", b"\x89PNG\r\n\x1a\n"),
    ],
)
def test_what_is_no_sound_has_no_length(name: str, content: bytes, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(content)
    assert not media_files(tmp_path, [name])[name].seconds


def test_pictures_have_a_size_and_what_is_not_there_has_nothing(tmp_path: Path) -> None:
    (tmp_path / "map.png").write_bytes(b"12345")
    found = media_files(tmp_path, ["map.png", "gone.mp3"])
    assert set(found) == {"map.png"}
    assert (found["map.png"].size, found["map.png"].seconds) == (5, None)
