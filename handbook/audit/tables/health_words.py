"""Words of health and of help at school that are nobody else's business beside a person.

The kinds are those that 34 CFR 99.3 and 45 CFR 160.103 hold to be about a single person; the
words, in English and Spanish, are common practice, no source.
"""

from __future__ import annotations

HEALTH_WORDS = (
    *("adhd", "allergic", "allergies", "allergy", "anaphylaxis", "anemia", "anxiety"),
    *("arthritis", "asthma", "asthmatic", "autism", "autistic", "bipolar", "braces", "broken arm"),
    *("broken leg", "broken wrist", "cancer", "celiac", "cerebral palsy", "chemo", "chemotherapy"),
    *("concussion", "covid", "crutches", "deaf", "depression", "diabetes", "diabetic"),
    *(
        "diagnosed",
        "diagnosis",
        "disability",
        "disabled",
        "dyslexia",
        "dyslexic",
        "eating disorder",
    ),
    *("epilepsy", "epileptic", "epi-pen", "epipen", "fracture", "hearing aid", "hospital", "iep"),
    *("inhaler", "injury", "insulin", "medication", "migraine", "migraines", "operation", "pills"),
    *("pregnant", "rehab", "seizure", "seizures", "stitches", "stutter", "surgery", "therapist"),
    *("therapy", "tourette", "transplant", "wheelchair", "504 plan", "special education"),
    *("free lunch", "reduced lunch", "food stamps", "foster care", "custody", "suspended from"),
    *("probation", "failing", "failed the playing test", "detention"),
    *("alergia", "alergias", "alérgica", "alérgico", "asma", "cirugía", "diabética", "diabético"),
    *("discapacidad", "enfermedad", "epilepsia", "hospital", "medicamento", "operación"),
)
