"""The rules, one file per subject in the order of the model text. Importing this package fills the register.

Rules never import each other; what two of them need stands in the modules beside this package (``marks.case``,
``marks.tables``, ``marks.aircraft``, ``marks.reliefs``, ``marks.environment``).
"""

# Imported for their registration, in the order in which answers are listed.
# isort: off
from marks.rules import identity  # noqa: F401
from marks.rules import hazards  # noqa: F401
from marks.rules import aircraft  # noqa: F401
from marks.rules import inner_air  # noqa: F401
from marks.rules import handling  # noqa: F401
from marks.rules import orientation  # noqa: F401
from marks.rules import environment  # noqa: F401
from marks.rules import limited  # noqa: F401
from marks.rules import excepted  # noqa: F401
from marks.rules import packagings  # noqa: F401
from marks.rules import salvage  # noqa: F401
from marks.rules import large  # noqa: F401
from marks.rules import strength  # noqa: F401
from marks.rules import mixed  # noqa: F401
from marks.rules import variation  # noqa: F401
from marks.rules import filling  # noqa: F401
from marks.rules import pressure  # noqa: F401
from marks.rules import age  # noqa: F401
from marks.rules import radioactive  # noqa: F401
from marks.rules import radioactive_package  # noqa: F401
from marks.rules import batteries  # noqa: F401
from marks.rules import cold  # noqa: F401
from marks.rules import infectious  # noqa: F401
from marks.rules import gases  # noqa: F401
from marks.rules import explosives  # noqa: F401
from marks.rules import reactive  # noqa: F401
from marks.rules import ground_identity  # noqa: F401
from marks.rules import ground_labels  # noqa: F401
from marks.rules import ground_packagings  # noqa: F401
from marks.rules import ground_reliefs  # noqa: F401
