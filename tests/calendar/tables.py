"""What RFC 5545 and RFC 7986 allow: the type and parameters of each property, and the properties of each component."""

TYPES_OF: dict[str, tuple[str, ...]] = {
    "PRODID": ("TEXT",),
    "VERSION": ("TEXT",),
    "CALSCALE": ("TEXT",),
    "METHOD": ("TEXT",),
    "UID": ("TEXT",),
    "SUMMARY": ("TEXT",),
    "DESCRIPTION": ("TEXT",),
    "COMMENT": ("TEXT",),
    "CONTACT": ("TEXT",),
    "LOCATION": ("TEXT",),
    "STATUS": ("TEXT",),
    "CLASS": ("TEXT",),
    "TRANSP": ("TEXT",),
    "ACTION": ("TEXT",),
    "NAME": ("TEXT",),
    "COLOR": ("TEXT",),
    "RELATED-TO": ("TEXT",),
    "TZID": ("TEXT",),
    "TZNAME": ("TEXT",),
    "CATEGORIES": ("TEXTS",),
    "RESOURCES": ("TEXTS",),
    "DTSTAMP": ("DATE-TIME",),
    "CREATED": ("DATE-TIME",),
    "LAST-MODIFIED": ("DATE-TIME",),
    "DTSTART": ("DATE-TIME", "DATE"),
    "DTEND": ("DATE-TIME", "DATE"),
    "RECURRENCE-ID": ("DATE-TIME", "DATE"),
    "DURATION": ("DURATION",),
    "TRIGGER": ("DURATION", "DATE-TIME"),
    "SEQUENCE": ("INTEGER",),
    "PRIORITY": ("INTEGER",),
    "REPEAT": ("INTEGER",),
    "URL": ("URI",),
    "TZURL": ("URI",),
    "TZOFFSETFROM": ("UTC-OFFSET",),
    "TZOFFSETTO": ("UTC-OFFSET",),
    "REFRESH-INTERVAL": ("NONE", "DURATION"),
    "SOURCE": ("NONE", "URI"),
    "IMAGE": ("NONE", "URI", "BINARY"),
    "CONFERENCE": ("NONE", "URI"),
    "ATTACH": ("URI", "BINARY"),
    "ATTENDEE": ("URI",),
    "ORGANIZER": ("URI",),
    "GEO": ("ANY",),
    "RRULE": ("ANY",),
    "RDATE": ("ANY",),
    "EXDATE": ("ANY",),
    "REQUEST-STATUS": ("ANY",),
}
"""The types of each property's value, its default first; NONE: it has none, and VALUE must be written."""

WORDED = ("ALTREP", "LANGUAGE")
PARAMETERS_OF: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("SUMMARY", "DESCRIPTION", "COMMENT", "CONTACT", "LOCATION", "RESOURCES", "NAME"), WORDED),
    "CATEGORIES": ("LANGUAGE",),
    "TZNAME": ("LANGUAGE",),
    "DTSTART": ("VALUE", "TZID"),
    "DTEND": ("VALUE", "TZID"),
    "RECURRENCE-ID": ("VALUE", "TZID", "RANGE"),
    "RDATE": ("VALUE", "TZID"),
    "EXDATE": ("VALUE", "TZID"),
    "TRIGGER": ("VALUE", "RELATED"),
    "RELATED-TO": ("RELTYPE",),
    "REFRESH-INTERVAL": ("VALUE",),
    "SOURCE": ("VALUE",),
    "IMAGE": ("VALUE", "ENCODING", "FMTTYPE", "ALTREP", "DISPLAY"),
    "CONFERENCE": ("VALUE", "FEATURE", "LABEL", "LANGUAGE"),
    "ATTACH": ("VALUE", "ENCODING", "FMTTYPE"),
    "ATTENDEE": (
        "CUTYPE", "MEMBER", "ROLE", "PARTSTAT", "RSVP", "DELEGATED-TO", "DELEGATED-FROM", "SENT-BY", "CN", "DIR",
        "LANGUAGE", "EMAIL",
    ),
    "ORGANIZER": ("CN", "DIR", "SENT-BY", "LANGUAGE", "EMAIL"),
}  # fmt: skip
"""Parameters that a property may have besides VALUE of its default type and X- ones."""

WORDS: dict[str, tuple[str, ...]] = {
    "STATUS": ("TENTATIVE", "CONFIRMED", "CANCELLED"),
    "TRANSP": ("OPAQUE", "TRANSPARENT"),
    "CLASS": ("PUBLIC", "PRIVATE", "CONFIDENTIAL"),
    "ACTION": ("AUDIO", "DISPLAY", "EMAIL"),
}
"""Words of an event or alarm that are no free text."""

RELATIONS = ("PARENT", "CHILD", "SIBLING")

INSIDE: dict[str, tuple[str, ...]] = {
    "VCALENDAR": ("VEVENT", "VTODO", "VJOURNAL", "VFREEBUSY", "VTIMEZONE"),
    "VEVENT": ("VALARM",),
    "VTODO": ("VALARM",),
    "VTIMEZONE": ("STANDARD", "DAYLIGHT"),
}
"""Components that may stand directly in a component."""

REQUIRED: dict[str, tuple[str, ...]] = {
    "VCALENDAR": ("PRODID", "VERSION"),
    "VEVENT": ("UID", "DTSTAMP", "DTSTART"),
    "VALARM": ("ACTION", "TRIGGER"),
    "VTIMEZONE": ("TZID",),
    "STANDARD": ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO"),
    "DAYLIGHT": ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO"),
}
"""Properties that stand exactly once; an event's DTSTART where the calendar has no METHOD."""

ONCE: dict[str, tuple[str, ...]] = {
    "VCALENDAR": ("CALSCALE", "METHOD", "UID", "LAST-MODIFIED", "URL", "REFRESH-INTERVAL", "SOURCE", "COLOR"),
    "VEVENT": (
        "CLASS", "CREATED", "DESCRIPTION", "GEO", "LAST-MODIFIED", "LOCATION", "ORGANIZER", "PRIORITY", "SEQUENCE",
        "STATUS", "SUMMARY", "TRANSP", "URL", "RECURRENCE-ID", "RRULE", "DTEND", "DURATION", "COLOR",
    ),
    "VALARM": ("DESCRIPTION", "SUMMARY", "DURATION", "REPEAT"),
    "VTIMEZONE": ("LAST-MODIFIED", "TZURL"),
    "STANDARD": ("RRULE",),
    "DAYLIGHT": ("RRULE",),
}  # fmt: skip
"""Properties that stand at most once."""

MANY: dict[str, tuple[str, ...]] = {
    "VCALENDAR": ("NAME", "DESCRIPTION", "CATEGORIES", "IMAGE"),
    "VEVENT": (
        "ATTACH", "ATTENDEE", "CATEGORIES", "COMMENT", "CONTACT", "EXDATE", "REQUEST-STATUS", "RELATED-TO",
        "RESOURCES", "RDATE", "CONFERENCE", "IMAGE",
    ),
    "VALARM": ("ATTENDEE", "ATTACH"),
    "VTIMEZONE": (),
    "STANDARD": ("COMMENT", "RDATE", "TZNAME"),
    "DAYLIGHT": ("COMMENT", "RDATE", "TZNAME"),
}  # fmt: skip
"""Properties that may stand more than once; a calendar's NAME and DESCRIPTION once a language."""

UTC_ALWAYS = ("DTSTAMP", "CREATED", "LAST-MODIFIED")
