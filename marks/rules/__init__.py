"""The rules, one file per subject in the order of the model text. Importing this package fills the register.

Rules never import each other; what two of them need stands in ``marks.case``, ``marks.tables`` or ``marks.aircraft``.
"""

from marks.rules import (  # noqa: F401 - imported for their registration, in the order answers are listed
    aircraft,
    environment,
    hazards,
    identity,
    orientation,
    packagings,
    reliefs,
)
