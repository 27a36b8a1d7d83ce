"""What families type into search in other languages, and where the answer stands in the demo.

As they type on a phone: with and without accents, tones and other marks. The way each is typed
is common practice, no source. An answer is an address below the tree of the language; of
several, any one answers. Asked on Wednesday, November 25, 2026.
"""

from __future__ import annotations

from tests.browser.queries import BANDS, BEACON, CONCERT, LANTERN, MEASURE_14, TRAIN, Query, q

PICK_UP, CALL = f"{CONCERT}#pick-up", f"{CONCERT}#call"
PARKING, ATTIRE = f"{CONCERT}#parking", f"{CONCERT}#attire"
WAY_IN = (f"{CONCERT}#access", "fall-2026/concert/#access", "families/accessibility/")
THANKSGIVING = "calendar/#closed-2026-11-25"
ABSENT = ("families/attendance/", "families/missed-a-rehearsal/")
AT_HOME, GAMES = "families/practice-at-home/", "events/home-games/"
OFFICE = ("families/",)
MEASURE = (*MEASURE_14, f"{TRAIN}#pulling-out")
DRESS_REHEARSALS = (*(f"{band}#2026-12-16-extra" for band in BANDS), "words/#dress-rehearsal")
B_FLAT = (
    "fundamentals/technique/#b-flat-scale",
    "fundamentals/tone/#one-good-note",
    f"{BEACON}part/clarinet/",
    f"{LANTERN}snowplow-parade/",
)


def part(name: str, *places: str) -> tuple[str, ...]:
    """The page of a part in each band, and places on it."""
    return tuple(f"{band}part/{name}/{place}" for band in BANDS for place in ("", *places))


IN_SPANISH: tuple[Query, ...] = (
    q("recoger", PICK_UP),
    q("a que hora es el concierto", CONCERT),
    q("¿A qué hora es el concierto?", CONCERT),
    q("ropa concierto", ATTIRE),
    q("que ropa hay que llevar", ATTIRE),
    q("uniforme", ATTIRE),
    q("estacionamiento", PARKING),
    q("donde estacionar", PARKING),
    q("silla de ruedas", *WAY_IN),
    q("dias sin clases", THANKSGIVING),
    q("falté al ensayo", *ABSENT),
    q("falte al ensayo", *ABSENT),
    q("practicar en casa", AT_HOME),
    q("baloncesto", GAMES),
    q("trompeta", *part("trumpet")),
    q("afinacion clarinete", *part("clarinet", "#tuning")),
    q("compás 14", *MEASURE),
    q("17 de diciembre", CONCERT),
    q("telefono", *OFFICE),
)
IN_VIETNAMESE: tuple[Query, ...] = (
    q("mấy giờ đón", PICK_UP),
    q("may gio don con", PICK_UP),
    q("đậu xe ở đâu", PARKING),
    q("dau xe o dau", PARKING),
    q("mac gi", ATTIRE),
    q("đồng phục", ATTIRE),
    q("buổi hòa nhạc ngày nào", CONCERT),
    q("hoa nhac", CONCERT),
    q("17/12", CONCERT),
    q("nghi hoc", THANKSGIVING),
    q("tổng duyệt", *DRESS_REHEARSALS),
    q("xe buyt", CALL),
    q("con bị ốm", *ABSENT),
    q("vang mat", *ABSENT),
    q("ô nhịp 14", *MEASURE),
    q("o 14", *MEASURE),
    q("si giáng kèn clarinet", *part("clarinet", "#tuning")),
    q("luyện tập ở nhà", AT_HOME),
    q("dien thoai", *OFFICE),
)
IN_ARABIC: tuple[Query, ...] = (
    q("متى الحفل", CONCERT),
    q("متى استلام الطلاب", PICK_UP),
    q("متى أستلم ابني", PICK_UP),
    q("متى استلم ابني", PICK_UP),
    q("ماذا يلبس الطالب في الحفل", ATTIRE),
    q("ملابس الحفل", ATTIRE),
    q("موقف السيارات", PARKING),
    q("اين اوقف السياره", PARKING),
    q("كرسي متحرك", *WAY_IN),
    q("عُطلة", THANKSGIVING),
    q("عطله", THANKSGIVING),
    q("غياب", *ABSENT),
    q("رقم هاتف المكتب", *OFFICE),
    q("البروفة العامة", *DRESS_REHEARSALS),
    q("الحافله", CALL),
    q("مازورة 14", *MEASURE),
    q("المازورة ١٤", *MEASURE),
    q("ترومبيت", *part("trumpet")),
    q("نغمة الدوزان كلارينيت", *part("clarinet", "#tuning")),
    q("17 ديسمبر", CONCERT),
    q("كرة السلة", GAMES),
)
BY_LANGUAGE = {"es": IN_SPANISH, "vi": IN_VIETNAMESE, "ar": IN_ARABIC}
