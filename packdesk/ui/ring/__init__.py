"""Makes an alarm heard, felt for by rhythm, and seen on the desktop, with a fallback for each.

May import: present and everything below, and PySide6; jeepney and Qt's sound module only inside
functions, since both may be absent. `alarm.Alarm` is the door: the window hands it what
`present.alarm_words` says rings, at every beat of the one heartbeat. No timer lives here.
"""
