"""What was seen: records, appended one by one, never changed; corrections are records too.

``outcome`` the words for what was seen, ``record`` one look, ``line`` its one line of JSON,
``writing`` and ``reading`` the files, ``history`` what counts after corrections and undoing,
``seen`` the little a night's list wants, ``entry`` looks as sheets and tables bring them,
``scales`` the words for the air, ``frame`` the log as a table.
"""
