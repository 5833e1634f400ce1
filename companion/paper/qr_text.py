"""QR patterns as lines of text, for a terminal: half blocks, two rows of modules in one line."""

from qrcode import QRCode, constants

from .qr import MARGIN_MODULES

#: Upper and lower module of one sign: dark is drawn, light is left.
_SIGNS = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
#: Black on white, whatever the terminal's own colours are.
_COLOURS, _PLAIN = "\x1b[38;5;16;48;5;231m", "\x1b[0m"


def lines(text: str, *, coloured: bool) -> list[str]:
    """The pattern of a text, upper and lower case kept.

    :param coloured: set black on white; else it is dark where the terminal draws.
    """
    made = QRCode(error_correction=constants.ERROR_CORRECT_M, border=MARGIN_MODULES)
    made.add_data(text)
    made.make(fit=True)
    matrix = made.get_matrix()
    blank = [False] * len(matrix)
    rows = [*matrix, blank] if len(matrix) % 2 else matrix
    drawn = [
        "".join(_SIGNS[bool(upper), bool(lower)] for upper, lower in zip(*pair, strict=True))
        for pair in zip(rows[::2], rows[1::2], strict=True)
    ]
    return [f"{_COLOURS}{line}{_PLAIN}" for line in drawn] if coloured else drawn
