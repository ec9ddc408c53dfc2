"""Holds cells.parquet against cells.csv of one sweep: names, types, every value, and what the file says of itself.

pyarrow reads both, so that nothing of our own reader or writer is trusted.
"""

import json
import pathlib
import sys

import pyarrow as pa
import pyarrow.csv
import pyarrow.parquet

folder = pathlib.Path(sys.argv[1])
table = pyarrow.parquet.read_table(folder / "cells.parquet")
types = {field.name: field.type for field in table.schema}
kinds = {str(kind) for kind in types.values()}
assert kinds == {"int64", "double", "string", "bool"}, kinds
# Blanks of numbers are nulls; names come from CSV's head, types from Parquet.
options = pyarrow.csv.ConvertOptions(column_types=types, null_values=[""], strings_can_be_null=False)
plain = pyarrow.csv.read_csv(folder / "cells.csv", convert_options=options)
assert table.column_names == plain.column_names, (table.column_names, plain.column_names)
assert table.num_rows == plain.num_rows > 0, (table.num_rows, plain.num_rows)
for name in table.column_names:
    ours, theirs = table[name].to_pylist(), plain[name].to_pylist()
    assert ours == theirs, next((name, row, a, b) for row, (a, b) in enumerate(zip(ours, theirs)) if a != b)
said = {key.decode(): value.decode() for key, value in table.schema.metadata.items()}
summary = json.loads((folder / "summary.json").read_text())
for key in ["format", "version", "seed", "site", "input_digest"]:
    assert said[f"hensward.{key}"] == str(summary[key]), key
print(f"{table.num_rows} rows of {table.num_columns} columns agree, {sum(c.null_count for c in table.columns)} blanks")
