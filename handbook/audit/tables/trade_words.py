"""Words that a band's pages write with capitals and that are no names of people. Common practice, no source."""

from __future__ import annotations

TRADE_WORDS = frozenset(
    """
    academy address advanced afternoon all alto april arts assembly assistant auditorium august
    autumn avenue back band bands baritone bass bassoon beginning bells black board book booster
    boosters boulevard brass building bus cafeteria calendar call camp campus carol cart ceremony
    chair chamber choir chorus christmas church city civic clarinet clinic club coda college
    community concert concerts conductor contest county court crew cymbal cymbals dance day days
    december deck dinner director district door drive drum drums east elementary ensemble
    entrance euphonium evening event exit fair families family february festival field fifth
    final finale first flute football fourth france french friday front fundamentals game gate
    german glockenspiel gold grade grand guard gym gymnasium hall harbor hearing high hill holiday
    home honor horn hotel house independence instrument intermediate jazz january july june
    junior kit labor lake lane large last law library light line lot low mallet maple march
    marching martin may meeting memorial memory middle mill monday morning mount museum music
    national new night north november number oak oboe october office old open orchestra
    orientation overture parade parents park parking part parts pep percussion performance piccolo
    pine place plan plaza point practice president program public quartet rally reader rehearsal
    rehearsals river road room rose saint saturday saxophone school schools score season second
    section senior september services sheet show sixth snare solo south southern space spring
    square staff stage stand state station street string student students studio summer sunday
    suite symphonic symphony tenor thanksgiving theater theatre third thursday timpani today
    tour town trail train trip trombone trumpet tuba tuesday unified union university valley
    veterans village wednesday week weekend west white wind winter women wood woods xylophone
    year years young
    bay beach bridge canyon cedar creek crossing falls ferry forest glen grove heights island
    landing meadow meadows ridge shore shores springs view woods
    accelerando adagio agitato allargando allegretto allegro andante andantino animato arioso
    assai brillante cantabile cantata cantilena chorale con crescendo diminuendo dolce elegy
    espressivo etude fanfare fantasia forte fugue fuoco furioso giocoso grandioso grave grazioso
    hymn intermezzo interlude largo larghetto legato leggiero lento lullaby maestoso marcato
    marziale meno mesto minuet misterioso moderato molto mosso moto nocturne ostinato pavane piano
    pesante piu più poco prelude presto prestissimo quasi rhapsody ritardando rondo rubato
    scherzando scherzo semplice sempre serenade sinfonia sonata sostenuto spiritoso staccato
    subito tango tarantella tempo tenuto toccata tranquillo troppo variations vivace vivo waltz
    abril agosto auditorio banda bandas calle casa centro ciudad clarinete coro diciembre
    domingo enero ensayo escuela febrero flauta iglesia jueves julio junio lunes martes marzo
    mayo miércoles noviembre octubre parque sala septiembre sábado teatro trompeta viernes
    """.split()  # noqa: SIM905 - read as words
)
