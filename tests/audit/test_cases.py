"""Everything of our own making that should not be public is found, and what looks like it is not.

What counts: 34 CFR 99.3 (personally identifiable information of a student, and what directory
information is), and 45 CFR 164.514(b)(2) for health; the sentences are ours, the people
invented, the numbers those that are kept for examples (555-01xx; example and test domains,
RFC 2606).
"""

from __future__ import annotations

import pytest

from tests.audit.looking import looked, page
from tests.published_sites import finished_file
from tests.real_media import document, mp3

# Words of a page, the code they are found by, and whether that stops a publication.
REFUSED = [
    # phones and mail
    ("<p>Call 555-0142 about rides.</p>", "phone-number"),
    ("<p>Text me: (555) 555-0143.</p>", "phone-number"),
    ("<p>Reach the chaperone at 555.555.0144</p>", "phone-number"),
    ("<p>+1 555 555 0145</p>", "phone-number"),
    ("<p>Cell: 5555550146</p>", "phone-number"),
    ("<p>From abroad: +44 20 7946 0018</p>", "phone-number"),
    ('<p><a href="tel:555-0147">the bus</a></p>', "phone-number"),
    ("<p>Llame al 555-0148 si llueve.</p>", "phone-number"),
    ("<p>Write to m.castillo@mail.test</p>", "mail-address"),
    ('<p><a href="mailto:rides@carpool.example">Rides</a></p>', "mail-address"),
    ("<p>Write to tova (at) mail (dot) test</p>", "mail-address"),
    # lists of names
    ("<ul><li>Mia Castillo</li><li>Jordan Ames</li><li>Tova Lindqvist</li></ul>", "list-of-names"),
    ("<p>Solos: Mia Castillo, Jordan Ames and Tova Lindqvist</p>", "list-of-names"),
    (
        "<ol><li>Castillo, Mia</li><li>Ames, Jordan</li><li>Lindqvist, Tova</li></ol>",
        "list-of-names",
    ),
    ("<p>Mia K.<br>Jordan A.<br>Tova L.</p>", "list-of-names"),
    ("<p>First row: Mia, Jordan, Diego, Priya</p>", "list-of-names"),
    (
        "<table><tr><td>Mia Castillo</td><td>flute</td></tr><tr><td>Jordan Ames</td><td>oboe</td></tr><tr><td>Diego Arrieta</td><td>horn</td></tr></table>",
        "list-of-names",
    ),
    (
        "<dl><dt>Bus 1</dt><dd>Mia Castillo; Diego Arrieta; Priya Raman; Owen Tull</dd></dl>",
        "list-of-names",
    ),
    ("<p>Mia Castillo – flute<br>Jordan Ames – oboe<br>Priya Raman – horn</p>", "list-of-names"),
    # health and standing
    ("<p>Mia Castillo has a peanut allergy.</p>", "health-of-a-person"),
    ("<p>Diego needs his inhaler in the left pocket.</p>", "health-of-a-person"),
    ("<p>No class: the director's surgery.</p>", "health-of-a-person"),
    ("<p>She is in the hospital until Monday.</p>", "health-of-a-person"),
    ("<p>Our first trumpet player broke her leg, so she is on crutches.</p>", "health-of-a-person"),
    ("<p>Jordan A. sits out because of a concussion.</p>", "health-of-a-person"),
    ("<p>Mia's IEP meeting is at 3:00 pm.</p>", "health-of-a-person"),
    ("<p>Owen Tull is failing and may not travel.</p>", "health-of-a-person"),
    ("<p>Ms. Arrieta is out for surgery.</p>", "health-of-a-person"),
    ("<p>Mia Castillo tiene alergia a las nueces.</p>", "health-of-a-person"),
    # birth dates
    ("<p>Mia was born on March 3, 2013.</p>", "birth-date"),
    ("<p>DOB: 03/03/2013</p>", "birth-date"),
    ("<p>Birthday: Mar 3</p>", "birth-date"),
    ("<p>Date of birth 2013-03-03</p>", "birth-date"),
    ("<p>Fecha de nacimiento: 3 de marzo de 2013</p>", "birth-date"),
    ("<p>March 3 is Mia's birthday.</p>", "birth-date"),
    # homes
    ("<p>Cast party at Mia's house, 12 Alder Lane.</p>", "home-address"),
    ("<p>Drop the trailer key at Diego Arrieta, 7 Quarry Road.</p>", "home-address"),
    ("<p>She lives at 480 North Orchard Street, Apt 4.</p>", "home-address"),
    ("<p>Home: P.O. Box 118</p>", "home-address"),
    ("<p>La casa queda en Calle Robles 45.</p>", "home-address"),
    # numbers and codes
    ("<p>Student ID: 482913</p>", "personal-number"),
    ("<p>Lunch number 44871</p>", "personal-number"),
    ("<p>ID# 0048213</p>", "personal-number"),
    ("<p>Your horn is in locker 214.</p>", "personal-number"),
    ("<p>078-05-1120</p>", "personal-number"),
    ("<p>Casillero 31</p>", "personal-number"),
    ("<p>The door code is 4711#.</p>", "door-code"),
    ("<p>Alarm code: 9921</p>", "door-code"),
    ("<p>Code for the storage room: 1234</p>", "door-code"),
    ("<p>Combination 12-34-05</p>", "door-code"),
    ("<p>El código de la puerta: 4711</p>", "door-code"),
    # passwords and keys
    ("<p>Password: tuba4ever</p>", "password"),
    ("<p>The passcode is 884213.</p>", "password"),
    ("<p>Meeting ID: 812 3456 7890</p>", "password"),
    ("<p>Contraseña: clarinete9</p>", "password"),
    ("<p>Username: bandroom</p>", "password"),
    ('<p><a href="https://call.example/j/81234?pwd=Zk9XUjE">Join</a></p>', "key-in-a-link"),
    ("<p>https://files.example/s/list?token=abc</p>", "key-in-a-link"),
    (
        '<p><a href="https://drive.example/folder?resourcekey=0-abc&amp;usp=sharing">Folder</a></p>',
        "key-in-a-link",
    ),
    # this computer
    (r"<p>See C:\Users\alder\Desktop\roster.xlsx</p>", "path-of-a-computer"),
    ("<p>/home/alder/band/roster.csv</p>", "path-of-a-computer"),
    ("<p>/Users/alder/Documents/trip.docx</p>", "path-of-a-computer"),
    ("<p>file:///C:/band/plan.html</p>", "path-of-a-computer"),
    (r"<p>\\server\music\parts</p>", "path-of-a-computer"),
    ("<p>http://localhost:8000/winter/</p>", "path-of-a-computer"),
    ("<p>http://192.168.1.20/scores/</p>", "path-of-a-computer"),
    ("<!-- ask Mia's mother --><p>Bring a lunch.</p>", "remark-in-a-page"),
]  # fmt: skip
TOLD = [
    ('<p><a href="https://docs.example/document/d/1AbC9xYz8QwErT7uI6oP5aS4dF3gH2jK1/edit">Sheet</a></p>', "code-in-a-link"),
    (
        "<ul><li>1. Vesna Korhal</li><li>2. Ottavia Brenn</li><li>3. Iskra Dunmarrow</li><li>4. Pell Vantage</li></ul>",
        "list-of-unfamiliar-names",
    ),
    ("<p>See Jordan Ames for keys.</p>", "name-of-a-person"),
    ('<img src="../../media/a.png" alt="Priya Raman at the bell kit">', "name-of-a-person"),
    ("<p>Ms. Arrieta leads the sectional.</p>", "name-of-a-person"),
    ("<p>The insulin of one of the horns is in the office.</p>", "health-of-some"),
    ("<p>Two of the trumpets have low grades.</p>", "health-of-some"),
    ("<p>Grades of one of our percussionists came today.</p>", "health-of-some"),
    ("<p>The IEP says: seat by the door.</p>", "health-of-some"),
    ("<p>Seat two reads the 504 plan first.</p>", "health-of-some"),
    ("<p>Custody changed for seat three, so two buses.</p>", "health-of-some"),
    ("<p>Pictures by @tuba_fan.04</p>", "name-of-an-account"),
    ('<p title="Tova L.">Solo</p>', "name-of-a-person"),
    ("<p>The bus leaves from 300 Elder Street.</p>", "street-address"),
    ("<p>TODO ask about the bus</p>", "note-to-self"),
    ("<p>DRAFT</p>", "note-to-self"),
    ("<p>Do not publish yet</p>", "note-to-self"),
    ("<p>Lorem ipsum dolor</p>", "note-to-self"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "code"), REFUSED)
def test_what_nobody_else_should_read_is_refused(words: str, code: str) -> None:
    found = looked(page(words))
    assert code in {one.concern.code for one in found if one.refuses}, found


@pytest.mark.parametrize(("words", "code"), TOLD)
def test_what_may_be_meant_is_told(words: str, code: str) -> None:
    found = looked(page(words))
    assert [(one.concern.code, one.refuses) for one in found] == [(code, False)]


def test_other_files_are_read_as_well() -> None:
    files = [
        finished_file("search/index.js", b'rows=[{"x":"Call 555-0151 \\u003cnow"}]'),
        finished_file("search/more.js", b'more={"x":"\\x41 555-0155 \\u00e9 \xff"}'),
        finished_file("calendar/all.ics", b"DESCRIPTION:Call 555-\r\n 0152\\, please\r\n"),
        finished_file("changes/feed.xml", b"<entry><title>Call 555-0153</title></entry>"),
        finished_file("media/mia-castillo-solo.mp3", mp3(4)),
        finished_file("winter/band/Thumbs.db", b"x"),
        finished_file("media/trip.pdf", document("Call 555-0154")),
    ]
    found = {(one.concern.code, one.words) for one in looked(*files)}
    assert found == {
        ("phone-number", "555-0151"),
        ("phone-number", "555-0152"),
        ("phone-number", "555-0153"),
        ("phone-number", "555-0154"),
        ("phone-number", "555-0155"),
        ("name-in-a-file-name", "mia-castillo-solo.mp3"),
        ("left-by-an-editor", "winter/band/Thumbs.db"),
    }


# What stands on such sites and is fine: the trade's numbers, codes that are none, our own.
CLEAN = [
    "<p>Mon, Feb 15 No school: Washington's Birthday</p>",
    "<p>Birthday of Martin Luther King, Jr.: Jan 18</p>",
    "<p>Fri, Feb 12 Lincoln’s Birthday</p>",
    "Measures 120-1324, then mm. 45–60, twice through.",
    "Quarter note = 120, then 132; goal 96-100.",
    "2026-27, week of 2026-11-30, 11/30, Dec 10, 7:00 pm, doors at 6:30.",
    "Room 112, choir room 114. Bus 3 leaves at 5:45.",
    "If your child has an allergy or needs an inhaler, tell the band office.",
    "A student who uses a wheelchair enters at the ramp; he or she may bring a friend.",
    "Bring your student ID card and lunch money.",
    "Locker rooms are open. Put cases behind the instrument lockers.",
    "Hearing aid users: the loop seats are in rows C to H.",
    "The director leads; the assistant director helps. Mr. Director is not a name.",
    "Concert Band, Symphonic Band, Jazz Band, Pep Band, Winter Guard",
    "Flute, Alto Saxophone, Bass Clarinet, French Horn, Snare Drum",
    "Monday, Tuesday, Wednesday and Thursday",
    "January, April, May and June",
    "Grace notes come before the beat. Mark Your Calendars. Will Call opens at six.",
    "Jordan Creek Middle School, Madison High School, Victoria Hall, Lincoln Center",
    "Fundraising codes of conduct: dress code 2 applies. Area code 555.",
    "Your password for the lending library is in your folder, not here.",
    "Private lessons: ask the band office. Privacy matters.",
    "Read https://www.example.org/music/practice-tips-for-beginning-bands-2026/ at home.",
    "Pages and/or parts; 6/8 and 12/8; home/away; c:a 10 minutes.",
    "Allegro Vivace, Poco Adagio, Molto Maestoso, Sempre Legato",
    "Opus 25, No. 3; Suite No. 2, movement 4. Order number 12 on the program.",
    "Born of a folk song, the tune turns 4 corners in 16 measures.",
    "The Old Mill Road theme in Quarry Road March has 32 measures.",
    "One, Two, Ready, Play. Do, Re, Mi, Fa, Sol.",
    "We practice for the Spring Music Festival in Cedar Falls.",
    "Therapy dogs visit the hall before the concert.",
    "No ensayamos hoy. No publicamos nombres.",
    "Call time: 6:15. Call 2 is at 6:45. Text size 16.",
    "Photo ID 2026-27 is needed at the gate. School number: ask the office.",
    "Line up at lockers 200-240, by locker room 2.",
    "Password: ask the band office. The password is in your folder.",
    "Clave: sol. Clave de fa para los trombones.",
    "The clarinet's suspension resolves in measure 12; the trumpet's second valve is depressed.",
    "The percussionist's suspended cymbal rings on.",
    "The composer was born on July 4, 1826 and wrote marches.",
    "Home game at 200 Stadium; open house in the gym.",
    "Diego Arrieta Middle School hosts us. Priya Raman Auditorium is next to it.",
    "Max Volume, Miles Walked, Roman Candle",
    "Draft horses pull the cart. Not yet public transport.",
    "https://maps.example/?q=band+room&z=15 and https://video.example/watch?v=Ab3dEf6hIjK",
    "TODOS A ESCENA",
    "Grades 6 to 8 meet here; a grade 2 march; grade 3 music.",
    "One of our marches is grade 2. Two of the pieces are for grade 6.",
    "Your grades are on the school's own page. Report cards go home on Friday.",
    "If your child has an IEP or a 504 plan, tell the band office.",
    "Any player with insulin or an inhaler may keep it at hand.",
    "One of the trumpets plays from the balcony. Some of the horns stand.",
    "Doors open @ 6:30; players meet @noon, families @the hall.",
    "First-aid kits are with one of the chaperones.",
    "A student in foster care pays no fee, whoever asks.",
    "Two of the valves go down and up.",
]  # fmt: skip


@pytest.mark.parametrize("words", CLEAN)
def test_what_only_looks_alike_is_left_alone(words: str) -> None:
    assert looked(page(f"<p>{words}</p>")) == []
