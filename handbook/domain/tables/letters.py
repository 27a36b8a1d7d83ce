"""Which languages our typefaces have letters for, and which letters there are on printed sheets."""

from __future__ import annotations

LANGUAGES = {
    "Vietnamese": ("vi",),
    "Arabic": ("ar", "ckb", "fa", "ps", "sd", "ur"),
    "Cyrillic": ("be", "bg", "kk", "ky", "mk", "mn", "ru", "sr", "tg", "uk"),
    "Latin": (
        "bs", "cs", "crh", "et", "eu", "hr", "hu", "lt", "lv", "mi", "mt", "pl", "ro", "sk", "sl",
        "sq", "tk", "tr",
    ),
}  # fmt: skip
"""Languages by what they need beside the letters of Latin-1 (Unicode CLDR, exemplar characters)."""

OWN_LATIN = frozenset({
    "af", "ca", "da", "de", "en", "es", "fi", "fil", "fo", "fr", "fy", "ga", "gd", "gl", "hmn",
    "ht", "id", "is", "it", "lb", "ms", "nb", "nl", "nn", "no", "oc", "pt", "rm", "sm", "so",
    "sq", "st", "sv", "sw", "tl", "xh", "zu",
})  # fmt: skip
"""Languages whose letters are all in Latin-1 (as above)."""

_RANGES = """
20-7E A0-24F 2B0-377 37A-37F 384-38A 38C 38E-3A1 3A3-3E1 3F0-45F 490-491 4B0-4B1 60C-60D
610-612 615 61B 61F 621-63A 63D 640-658 65A-65B 660-671 674 679 67C 67E 681 685-686
688-689 691 693 695-696 698 69A 6A0-6A1 6A4 6A9-6AD 6AF 6B5 6BA 6BC-6BE 6C0-6C3 6C6-6D0
6D2-6D5 6DC-6DE 6E9 6F0-6F9 762-763 1E00-1EFF 2009 200C-200E 2010-205F 2070-2071
2074-208E 2090-209C 20A0-20BF 2100-215F 2184 2189 2190-21AE 21B0-21E5 21F1-21F2
21F4-230F 2311-2315 2317 231C-231F 2322-2323 2329-232A 232C-2335 237C 2380-2394
2396-239A 23AF 23BE-23CD 23D0-23DB 23E2-23E8 2460-24FF 25A0-2704 2706-2709 270B-271C
2722-2727 2729-274B 274D 274F-2753 2756-2775 2794 2798-27AF 27B1-27BE 27DC 299B 29A0
29A3 29B8 29F5 2ADE 2AE3-2AE5 2AEE 2B00-2B0D 2B12-2B2F 2B4D-2B73 2B76-2B95 2B97-2BFF
FB50-FB51 FB56-FB59 FB66-FB6D FB7A-FB7D FB88-FB95 FB9E-FB9F FBA5 FBA7-FBB1 FBBF-FBC0
FBD3-FBDC FBDE-FBDF FBE2-FBE3 FBE8-FBE9 FBFC-FBFF FD3E-FD3F FDF2 FDFC FE70-FE74
FE76-FEFC 1D100-1D126 1D129-1D1E8 1F44D-1F44E
"""


def _letters() -> frozenset[str]:
    found = set[str]()
    for run in _RANGES.split():
        first, _, last = run.partition("-")
        found.update(map(chr, range(int(first, 16), int(last or first, 16) + 1)))
    return frozenset(found)


ON_SHEETS = _letters()
"""What our typefaces have for sheets, as Unicode numbers in hex: their own tables of characters
(OpenType 1.9.1, "cmap"), against which a test holds these."""
