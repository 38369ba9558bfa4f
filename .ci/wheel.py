"""A wheel that brings the command: PROGRAM VERSION README LICENSE FOLDER. The same input gives the same bytes."""

import base64
import hashlib
import os
import sys
import time
import zipfile
from pathlib import Path

program, version, readme, licence, folder = sys.argv[1:]
tag = "py3-none-manylinux_2_5_x86_64.manylinux1_x86_64.musllinux_1_1_x86_64"
info = f"shoalwise-{version}.dist-info"
about = f"""Metadata-Version: 2.1
Name: shoalwise
Version: {version}
Summary: Stillwater carp feeding-and-casting plans compared by simulation
License: MIT OR Apache-2.0
License-File: LICENSE
Description-Content-Type: text/markdown

{Path(readme).read_text(encoding="utf-8")}"""
wheel = "Wheel-Version: 1.0\nGenerator: shoalwise\nRoot-Is-Purelib: false\n" + "".join(
    f"Tag: py3-none-{platform}\n" for platform in tag.split("-")[-1].split("."))
files = [
    (f"shoalwise-{version}.data/scripts/shoalwise", Path(program).read_bytes(), 0o755),
    (f"{info}/METADATA", about.encode(), 0o644),
    (f"{info}/WHEEL", wheel.encode(), 0o644),
    (f"{info}/licenses/LICENSE", Path(licence).read_bytes(), 0o644),
]


def row(name, content):
    digest = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
    return f"{name},sha256={digest},{len(content)}\n"


record = "".join(row(name, content) for name, content, _ in files) + f"{info}/RECORD,,\n"
files.append((f"{info}/RECORD", record.encode(), 0o644))
written = time.gmtime(int(os.environ.get("SOURCE_DATE_EPOCH", "1700000000")))[:6]
path = Path(folder) / f"shoalwise-{version}-{tag}.whl"
with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packed:
    for name, content, mode in files:
        entry = zipfile.ZipInfo(name, written)
        entry.external_attr = (0o100000 | mode) << 16
        entry.compress_type = zipfile.ZIP_DEFLATED
        packed.writestr(entry, content)
print(path.name)
