"""Words that readers type for what a page calls otherwise, by language.

As families and players speak; common practice, no source. Each row has what stands in a title or
its keywords, and what may be typed for it. A row is there only where the typed word stands
nowhere on the page that answers it. Keywords are English in every language.
"""

from __future__ import annotations

from collections.abc import Mapping

Groups = tuple[tuple[str, str], ...]

_ENGLISH: Groups = (
    ("attire|clothes", "wear outfit dress code shirt ropa vestir vestimenta"),
    ("concert", "performance show recital concierto"),
    (
        "be at the bus|ready in the room|call time",
        "call time arrive arrival what time do we have to be there hora de llegada llegar",
    ),
    ("pick-up", "pickup pick up ride collect recoger"),
    ("ticket|tickets", "tickets ticket admission cost price free entradas boletos"),
    ("restroom|restrooms", "bathroom bathrooms toilet toilets baño baños"),
    ("bus|buses", "autobus autobuses bus school bus"),
    ("no school", "vacaciones vacation holiday break day off closed dia libre sin clases"),
    ("school is out|early release|early dismissal", "early dismissal half day salida temprano"),
    ("parking", "park car lot drive estacionamiento"),
    ("bring", "take pack need traer llevar"),
    ("attendance", "absent absence excused late tardy sick ill conflict"),
    ("miss|missed", "absent absence sick ill"),
    ("asistencia|faltas", "faltar ausente enfermo"),
    ("rehearsal|rehearsals", "class ensayo"),
    ("hearing", "ear ears earplugs loud noise"),
    ("oido|oído", "oidos tapones ruido"),
    ("instrument care", "clean cleaning repair broken stuck maintenance oil reed"),
    ("cuidado del instrumento", "limpiar reparar roto"),
    ("practice at home|practise at home", "practise home homework sore pain minutes"),
    ("privacy", "cookies private names photos"),
    ("manners", "etiquette behaviour behavior photos video clap"),
    ("for families", "parents contact email phone number office padres familias contacto"),
    ("calendar", "dates schedule when calendario fechas"),
    ("fundamentals", "warmup exercises basics fundamentos"),
    ("words", "glossary dictionary palabras"),
    ("breathing", "breath breathe air"),
    ("tone", "sound long note"),
    ("tuning", "tune intonation in tune flat sharp"),
    ("sight-reading", "sightreading sight reading"),
    ("articulation", "tongue tonguing"),
    ("sectional|sectionals", "section"),
    ("dress rehearsal", "run-through ensayo general"),
    ("percussion|snare drum|bass drum|drum set", "drums drum"),
    ("glockenspiel", "bells bell kit orchestra bells"),
    ("click", "metronome beat"),
    ("drone", "tuner tune in tune"),
    ("horn", "french horn"),
    ("saxophone", "sax"),
    ("euphonium", "baritone"),
    ("fermata", "hold pause birdseye"),
    ("crescendo", "louder hairpin"),
    ("decrescendo", "softer diminuendo hairpin"),
    ("accelerando", "faster speed up"),
    ("ritardando", "slower slow down rit"),
)

_SPANISH: Groups = (
    ("ropa de concierto|ropa", "vestir vestimenta uniforme zapatos ponerse"),
    ("concierto", "recital presentación función evento"),
    ("en el autobús|listos en la sala|hora de llegar", "hora de llegada llegar presentarse"),
    ("hora de recoger", "recoger recogida buscar salida termina"),
    ("dónde estacionar", "estacionamiento estacionar parqueo parquear aparcar carro coche"),
    ("acceso|cómo entrar", "silla de ruedas baño baños entrada escalones"),
    ("qué traer|traer", "llevar necesita"),
    ("no hay clases", "vacaciones día libre sin clases feriado descanso escuela cerrada"),
    ("ensayo|ensayos", "práctica clase"),
    (
        "asistencia|falta|faltar|faltas|faltas a un ensayo",
        "falté faltó ausente ausencia enfermo cita",
    ),
    ("para las familias", "padres contacto teléfono correo oficina ayuda"),
    ("calendario", "fechas horario agenda"),
    ("vocabulario", "palabras glosario diccionario términos"),
    ("practicar", "tarea casa minutos"),
    ("idiomas", "traducción inglés"),
    ("partido|partidos", "baloncesto básquetbol basquet juego"),
    ("corno", "corno francés trompa"),
    ("percusión|tarola", "tambor batería caja"),
    ("autobús|autobuses", "bus camión camiones"),
    ("afinación|nota de afinación", "afinar afinador"),
)

_VIETNAMESE: Groups = (
    ("hòa nhạc|buổi hòa nhạc", "biểu diễn trình diễn concert"),
    ("trang phục|mặc", "mặc gì quần áo đồng phục giày"),
    ("đón học sinh", "đón con giờ về mấy giờ đón"),
    ("có mặt tại xe buýt|sẵn sàng trong phòng|có mặt", "giờ đến mấy giờ phải đến tập trung"),
    ("đậu xe", "đỗ xe bãi xe chỗ đậu"),
    ("lối vào", "xe lăn nhà vệ sinh"),
    ("đồ cần mang theo|mang theo", "đem theo cần gì"),
    ("no school", "nghỉ học nghỉ lễ ngày nghỉ"),
    ("tổng duyệt", "tập dượt duyệt"),
    ("buổi tập", "tập luyện tập dượt"),
    ("dành cho gia đình", "phụ huynh liên lạc điện thoại văn phòng"),
    ("lịch", "ngày giờ thời khóa biểu"),
    ("từ ngữ", "từ điển nghĩa"),
    ("ngôn ngữ", "dịch tiếng anh"),
    ("horn", "kèn pháp kèn cor french horn"),
    ("snare drum", "trống con trống"),
    ("glockenspiel|mallets", "xylo chuông"),
)

_HAITIAN: Groups = (
    ("concert", "konsè spektak resital prezantasyon"),
    ("rad pou mete", "abiye abiman inifòm soulye"),
    ("bò bis la|pare nan sal la", "rive prezante otobis"),
    ("vin chèche elèv yo", "chache ranmase pran retounen pickup"),
    ("kote pou gare", "pakin paking parking machin estasyone"),
    ("ki jan pou antre|accessibility", "chèz woulant andikape twalèt asansè aksè"),
    ("sa pou pote", "bezwen mennen"),
    ("no school", "konje vakans ferye fèmen"),
    ("school is out|early release|early dismissal", "lage bonè"),
    ("rehearsal|rehearsals|repetisyon", "repetisyon pratik antrènman"),
    ("dress rehearsal", "repetisyon jeneral dènye"),
    ("attendance|miss|missed", "absan absans manke malad reta anreta repetisyon"),
    ("pou fanmi yo", "paran kontak telefòn nimewo imel biwo"),
    ("kalandriye", "dat orè ajanda"),
    ("vokabilè", "mo diksyonè glosè"),
    ("lang", "tradiksyon angle"),
    ("practice at home", "pratike lakay devwa minit"),
    ("hearing", "zòrèy tande bri bouchon"),
    ("instrument care", "netwaye reparasyon kase swen enstriman"),
    ("manners", "konpòtman foto videyo bravo"),
    ("privacy", "prive foto non"),
    ("game|games", "match jwèt baskètbòl"),
    ("breathing", "respire respirasyon souf"),
    ("tuning|nòt akòdaj|nòt soutni", "akòde akòdaj akòdè"),
    ("rhythm", "ritm konte"),
    ("scale", "gam"),
    ("sight-reading", "lekti a vi"),
    ("kò franse", "french horn"),
    ("kès klè|pèkisyon", "tanbou batri kès"),
    ("metwonòm", "klik bit"),
)

TABLES: Mapping[str, Groups] = {"en": _ENGLISH, "es": _SPANISH, "vi": _VIETNAMESE, "ht": _HAITIAN}
