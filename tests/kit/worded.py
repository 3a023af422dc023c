"""The checks as their readers meet them: with the reasons in sentences."""

from webapp.reckon.sentences.reasons import in_words


def worded(check, unit="mm"):
    """The check with its reasons in sentences too, as `assess` makes them."""

    def answer(*given):
        return in_words(check(*given), unit)

    return answer
