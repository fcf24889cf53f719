"""The one refusal of every pure calculation."""


class Impossible(ValueError):
    """An argument that no world could give: a negative length, a void fraction above one."""

    def __init__(self, argument: str, sentence: str) -> None:
        super().__init__(f"{argument}: {sentence}")
        self.argument = argument
        self.sentence = sentence
