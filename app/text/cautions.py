"""What every page says about its numbers, in our own words."""

SHORT = (
    "Figures are estimates of teaching and rooms, never of a child or of a teacher’s worth; "
    "they are not for appraising, paying or disciplining anyone, nor for sanctioning pupils."
)
LINE = (
    "Small differences usually mean nothing. Grey means too little to say, and missing is not "
    "zero. Our line is a convention that this school chose."
)
WAYS = (
    "There is no single way to listen: looking away, moving or holding something may be how a "
    "child listens best. Eye contact is never asked for, an agreed adjustment counts as met, and "
    "every child may pass, get help or answer another way."
)
FAMILIES = (
    "Talk, silence, gaze and turn-taking mean different things in different families: agree "
    "expectations with them."
)
NOTES = (
    "No names, diagnoses or incidents belong in notes. Nobody watches this tool for emergencies: "
    "follow the safeguarding procedure."
)
LAW = (
    "Local law, policies, agreements and licensed practice come first; this is not legal, "
    "medical, psychological or special-education advice."
)
INVENTED = "All sample data are invented."
EVERY = (SHORT, LINE, WAYS, FAMILIES, NOTES, LAW, INVENTED)
