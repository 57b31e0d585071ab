"""What was seen: records, appended one by one, never changed; corrections are records too.

``outcome`` the words for what was seen, ``record`` one look, ``line`` its one line of JSON,
``writing`` and ``reading`` the files, ``history`` what counts after corrections and undoing.
"""
