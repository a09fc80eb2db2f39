"""Position conversion table: 2·sqrt(x² + y²) to four decimals for deviations of 0.001 to 0.020 mm.

Run: python3 test/validation/scripts/position-table.py  (decimal arithmetic of the standard library, 30 digits)
"""
import json
import pathlib
from decimal import ROUND_HALF_EVEN, Decimal, getcontext

getcontext().prec = 30
steps = [Decimal(k) / 1000 for k in range(1, 21)]
rows = [[float(x), float(y), float((2 * (x * x + y * y).sqrt()).quantize(Decimal("0.0001"), ROUND_HALF_EVEN))]
        for x in steps for y in steps if y <= x]
target = pathlib.Path(__file__).parent.parent / "data" / "position-table.json"
target.write_text(json.dumps({"source": "2*sqrt(x^2 + y^2) to four decimals; test/validation/scripts/position-table.py",
                              "rows": rows}, separators=(",", ":")) + "\n")
