"""Codes as words."""


def words_of(code: str) -> str:
    """A code of ours as people say it.

    >>> words_of("humid-forest"), words_of("uvb_lamp")
    ('humid forest', 'UVB lamp')
    """
    return code.replace("_", " ").replace("-", " ").replace("uvb", "UVB")
