"""What stops a command from running, said in one sentence."""


class CannotRun(Exception):
    """The machine or the data folder does not allow what was asked; the sentence says why."""

    @property
    def sentence(self) -> str:
        """The reason, for a person."""
        return str(self)
