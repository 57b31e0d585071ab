"""The tree of errors a user can meet; each message names the thing and the remedy."""


class PlannerError(Exception):
    """The planner could not do what was asked: exit code 1; ``others`` are further faults."""

    def __init__(self, message: str, others: tuple[str, ...] = ()) -> None:
        super().__init__(message)
        self.others = others


class UsageError(PlannerError):
    """The request itself is wrong: exit code 2."""


class KitError(UsageError):
    """A kit file has a missing, misspelt or impossible value."""


class UnknownTargetError(UsageError):
    """No target has this name."""


class DateOutsideEphemerisError(UsageError):
    """The date lies outside the years the ephemeris covers."""


class CatalogError(PlannerError):
    """A catalog file is missing, damaged or of another edition."""


class ModelRangeError(PlannerError, ValueError):
    """A number lies outside the range in which a model holds."""
