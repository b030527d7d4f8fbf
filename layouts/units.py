"""The millimetre is the only length inside; this is the one place that knows another."""

MM_PER_INCH = 25.4
PT_PER_MM = 72 / MM_PER_INCH


def pt(mm: float) -> float:
    """Millimetres to PDF points."""
    return mm * PT_PER_MM


def number(value: float, places: int = 4) -> str:
    """The one number formatter for files: at most ``places`` decimals, no exponent, no trailing zeros, never "-0"."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".") if places else f"{value:.0f}"
    return "0" if text in ("-0", "") else text
