"""Arguments in, text out: one module per command.

The only layer that asks the time, touches the terminal and sets exit codes.
"""
