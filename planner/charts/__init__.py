"""Charts: the sky about a place as plain shapes in a circle, and the writers of them.

``scene`` the shapes, ``clip`` cuts them to the circle, ``svg`` and ``paint`` write them.
"""
