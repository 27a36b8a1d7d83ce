"""Names of percussion that has no part of its own in the table of instruments.

Common practice, no source.
"""

from __future__ import annotations

SMALL_PERCUSSION = frozenset(
    {
        *("agogo-bells", "anvil", "bass-drum-pedal", "bell-tree", "bird-call", "block", "bongos"),
        *("brake-drum", "cabasa", "cajon", "castanets", "claves", "congas", "cowbell", "crotales"),
        *("djembe", "field-drum", "finger-cymbals", "flexatone", "gong", "guiro", "hand-drum"),
        *(
            "hi-hat",
            "log-drum",
            "maracas",
            "mark-tree",
            "metal-plate",
            "piccolo-snare",
            "rainstick",
        ),
        *("ratchet", "ride-cymbal", "roto-toms", "sandpaper-blocks", "shaker", "siren"),
        *("slapstick", "sleigh-bells", "splash-cymbal", "steel-drum", "tam-tam", "temple-blocks"),
        *("thunder-sheet", "timbales", "tom-tom", "tom-toms", "train-whistle", "vibraslap"),
        *("whip", "whistle", "wind-chimes", "wind-machine", "wood-block", "woodblock"),
    }
)
