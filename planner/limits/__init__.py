"""The observer's own limits: what of the models differs between people, learnt from the log.

``priors`` what is believed beforehand, ``chances`` how likely each outcome is, ``evidence`` the
looks as the models see them, ``likelihood`` all looks together, ``sampling`` draws from what
they leave, ``fitting`` the result, ``foretelling`` what a look would be and would teach,
``surprises`` what nobody expected, ``keeping`` the file of limits in use.
"""
