"""Licence texts and a bill of materials (CycloneDX 1.5) of every crate in the program: METADATA LICENCES SBOM."""

import json
import re
import sys
import uuid
from pathlib import Path

metadata, licences, sbom = sys.argv[1:]
described = json.loads(Path(metadata).read_text(encoding="utf-8"))
packages = {package["id"]: package for package in described["packages"]}
nodes = {node["id"]: node for node in described["resolve"]["nodes"]}
root = described["resolve"]["root"]

# What the program is made of: normal dependencies from the root down, none for tests or for building.
reached, waiting = set(), [root]
while waiting:
    crate = waiting.pop()
    if crate in reached:
        continue
    reached.add(crate)
    for dependency in nodes[crate]["deps"]:
        if any(kind["kind"] is None for kind in dependency["dep_kinds"]):
            waiting.append(dependency["pkg"])
crates = sorted((packages[crate] for crate in reached - {root}), key=lambda crate: (crate["name"], crate["version"]))

texts = ["The program contains these packages, each under its own licence.\n"]
for crate in crates:
    folder = Path(crate["manifest_path"]).parent
    named = sorted(path for path in folder.iterdir() if path.is_file() and re.match(r"(?i)(licen[cs]e|copying|notice|unlicense)", path.name))
    texts.append(f"\n{'=' * 100}\n{crate['name']} {crate['version']}: {crate['license']}\n{', '.join(crate['authors'])}\n")
    texts += [f"\n--- {path.name}\n\n{path.read_text(encoding='utf-8', errors='replace')}" for path in named]
    if not crate["license"] and not named:
        sys.exit(f"{crate['name']} {crate['version']} names no licence")
Path(licences).write_text("".join(texts), encoding="utf-8")


def component(crate):
    purl = f"pkg:cargo/{crate['name']}@{crate['version']}"
    return {
        "type": "library", "bom-ref": purl, "name": crate["name"], "version": crate["version"], "purl": purl,
        "licenses": [{"expression": re.sub(r"\s*/\s*", " OR ", crate["license"] or "NOASSERTION")}],
    }


own = packages[root]
named_all = " ".join(f"{crate['name']} {crate['version']}" for crate in [own, *crates])
bill = {
    "bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
    "serialNumber": f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, named_all)}",
    "metadata": {"component": {**component(own), "type": "application"}},
    "components": [component(crate) for crate in crates],
}
Path(sbom).write_text(json.dumps(bill, indent=1) + "\n", encoding="utf-8")
print(f"{len(crates)} packages")
