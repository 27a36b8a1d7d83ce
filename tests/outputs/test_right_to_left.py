"""Styles tell of start and end, so that a page in Arabic turns round by itself."""

import re
from types import SimpleNamespace

import pytest

from handbook.outputs.html.environment import page_environment
from handbook.outputs.i18n import speaking
from handbook.resources import templates_folder

STYLES = templates_folder() / "joined" / "handbook.css"

# As CSS Logical Properties and Values Level 1 has them: what names a side of the screen, with the
# property of the flow that does the same.
_SIDE = re.compile(r"(^|-)(left|right)(-|$)")
_SIDED_VALUES = {"text-align", "float", "clear", "caption-side"}
_BOXES = {"margin", "padding", "inset", "border-width", "border-style", "border-color"}
_TURNING = re.compile(r"translateX|translate3d|skew|scaleX|to (left|right)")

MEANT = {
    ".prose .right{text-align:right}": "a director's table has its columns where the director put them",
    ".concert-left{float:right}": "browsers of 2022 know no `inline-end`; `:dir(rtl)` sets it right",
    ".concert-left:dir(rtl){float:left}": "the other side of the same",
    ".stacked td::before{float:left}": "as above",
    ".stacked td:dir(rtl)::before{float:right}": "the other side of the same",
    ".contents summary::after{border-width:0 2px 2px 0}": "turned by 45 degrees, a sign that points down",
    ".row>summary::after{border-width:0 2px 2px 0}": "turned by 45 degrees, a sign that points down",
    ":is(h1,h2,h3,h4,p,li,dt,dd,td,th,figcaption)[translate=no]:dir(rtl),.search input:dir(rtl),"
    ":dir(rtl):not(.prose)>:is(span,div)[dir=ltr]{text-align:right}": "English words stand at the side of the page that holds them",
    ".menu [aria-current]{box-shadow:inset 4px 0 var(--metal-line)}": "shadows know only sides; "
    "`:dir(rtl)` has its own",
    ".menu [aria-current]:dir(rtl){box-shadow:inset -4px 0 var(--metal-line)}": "the other side of the same",
    ".terms>div:target,.card:target,.exercise:target{box-shadow:-.7rem 0 0 -.3rem var(--metal-line)}": "shadows"
    " know only sides; `:dir(rtl)` has its own",
    ":is(.terms>div,.card,.exercise):target:dir(rtl){box-shadow:.7rem 0 0 -.3rem var(--metal-line)}": "the"
    " other side of the same",
}


def _words(value: str) -> list[str]:
    """Part a value at its spaces, but for those within brackets."""
    return re.findall(r"(?:[^\s(]|\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\))+", value)


def _has_a_side(name: str, value: str) -> bool:
    value = value.replace("!important", "").strip()
    words = _words(value)
    if _SIDE.search(name) or _TURNING.search(value):
        return True
    if name in _SIDED_VALUES:
        return value in {"left", "right"}
    if name in _BOXES:
        return len(words) == 4 and words[1] != words[3]
    if name == "border-radius":
        return len(words) > 1
    return name == "box-shadow" and _is_aside(value)


def _is_aside(shadows: str) -> bool:
    """Whether shadows lie more to one side; the first length of each is how far across."""
    lengths = (re.search(r"-?[\d.]+", layer) for layer in re.split(r",(?![^(]*\))", shadows))
    across = {float(length[0]) for length in lengths if length}
    return across != {-one for one in across}


def _sided(text: str) -> list[str]:
    """Find what names a side, each with its selector."""
    plain = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    return [
        f"{selector.strip()}{{{name}:{value}}}"
        for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", plain)
        for name, _, value in (part.partition(":") for part in body.split(";"))
        if _has_a_side(name.strip(), value.strip())
    ]


def test_no_style_names_a_side_unless_it_means_one() -> None:
    found = {one for part in STYLES.glob("*.css") for one in _sided(part.read_text("utf-8"))}
    assert found == set(MEANT)


def test_all_brackets_are_closed_where_they_are_opened() -> None:
    """A browser leaves out a declaration that it cannot read, and says nothing."""
    for part in STYLES.glob("*.css"):
        plain = re.sub(r"/\*.*?\*/", "", part.read_text("utf-8"), flags=re.DOTALL)
        for value in re.findall(r":([^{};]*)[;}]", plain):
            assert value.count("(") == value.count(")"), f"{part.name}: {value}"


@pytest.mark.parametrize(
    ("style", "sided"),
    [
        ("a{margin-left:1px}", True),
        ("a{border-right-color:red}", True),
        ("a{left:0}", True),
        ("a{text-align:left}", True),
        ("a{padding:0 1px 0 2px}", True),
        ("a{padding:0 max(1px,calc(2px + 3px)) 0 0}", True),
        ("a{border-radius:3px 0}", True),
        ("a{box-shadow:4px 0 red}", True),
        ("@media print{a{float:right!important;right:0}}", True),
        ("a{margin-inline-start:1px}", False),
        ("a{padding:0 1px 2px}", False),
        ("a{padding:0 max(1px,calc(2px + 3px)) 0 max(1px,calc(2px + 3px))}", False),
        ("a{border-radius:3px}", False),
        ("a{box-shadow:-4px 0 red,4px 0 red}", False),
        ("a{box-shadow:inset 0 0 0 1px red}", False),
        ("a{text-align:start;text-align:center}", False),
        ("/* a{left:0} */a{top:0}", False),
    ],
)
def test_sides_are_found(style: str, *, sided: bool) -> None:
    assert bool(_sided(style)) is sided


@pytest.mark.parametrize(("language", "side"), [("en", -1), ("ar", 1)])
def test_the_mark_of_a_stage_stands_before_its_name(language: str, side: int) -> None:
    """In drawings, whose places are sides: left of the name, or right of it."""
    module = page_environment(templates_folder()).get_template("components/stage.html.j2").module
    mark = SimpleNamespace(width=20, filled="", open="")
    label = SimpleNamespace(middle=100, name="Build", letters=5, named=True, marked=True, mark=mark)
    with speaking(language):
        drawn = str(module.band_label(label, 9))  # type: ignore[attr-defined]
    start = float(re.findall(r'stage-mark" transform="translate\((\S+)', drawn)[0])
    middle = start + mark.width / 4  # drawn at half its size
    assert middle * side > 0
    assert float(re.findall(r'<text x="(\S+)"', drawn)[0]) * side < 0
