"""How the tube hangs, turns and stands: balance, bearing, standing, cooling; rig and account.

``balance``, ``bearing``, ``standing`` and ``cooling`` know only plain numbers; ``rig`` is what the
maker tells of the tube, ``loading`` what hangs on it, ``attitude`` what it does at each altitude,
``friction_check`` how its friction is measured, ``field`` what its diagonal lights and ``account``
the whole answer.
"""
