"""Reads calendars with the package icalendar and writes down, for each, when its
entries begin and end in UTC: what `tests/library/calendar.rs` compares with.

    read_calendar.py FILE.ics...

Kept texts are made anew by `OVENBELL_KEEP=1 cargo test --test library calendar::`.
"""

import sys
from datetime import timezone
from pathlib import Path

from icalendar import Calendar


def instant(value):
    return value.dt.astimezone(timezone.utc).isoformat().replace("+00:00", "Z")


def main():
    for name in sys.argv[1:]:
        path = Path(name)
        calendar = Calendar.from_ical(path.read_bytes())
        lines = []
        for event in calendar.walk("VEVENT"):
            ends = event.get("DTEND")
            lines.append(f"{event['UID']},{instant(event['DTSTART'])},{instant(ends) if ends else ''}")
        path.with_suffix(".csv").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
