"""The cup: what is in it, and the one next thing to do.

``fold`` turns the rows of one cup into its state; ``advise`` says what comes next. Both are pure
and run alike on the phone and on the server.
"""

from .advice import Action, Advice, advise
from .fold import fold
from .history import ENDINGS
from .progress import CupState
from .state import Cup, LotUse, Use

__all__ = ["ENDINGS", "Action", "Advice", "Cup", "CupState", "LotUse", "Use", "advise", "fold"]
