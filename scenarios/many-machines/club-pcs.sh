#!/usr/bin/env bash
# Splits a sweep between the PCs of a club, over ssh, and joins the results.
#
#   club-pcs.sh HOSTS SHARES FOLDER SCENARIO --vary … [any other option of sweep]
#   club-pcs.sh 1/anna@pc1,1/anna@pc2 12 night tern-bar.toml --vary "plan.bar-five-minutes.recast=1..20/20 min"
#
# Needs GNU parallel, rsync and ssh on this machine, rsync and ssh on the others. Copies the program to them. Run it
# again to fish the shares that are still missing.
set -euo pipefail

[ $# -ge 5 ] || { sed -n '2,8s/^# \{0,1\}//p' "$0" >&2; exit 2; }
hosts=$1 shares=$2 folder=$3 scenario=$4
shift 4
program=$(command -v "${SHOALWISE:-shoalwise}")
name=$(basename "$scenario")

mkdir -p "$folder"
cp "$program" "$folder/shoalwise"
cp "$scenario" "$folder/$name"
# The file of weigh-ins, if the scenario names one.
weigh_ins=$(sed -nE 's/^[[:space:]]*(section\.)?weigh_ins[[:space:]]*=[[:space:]]*"([^"]+)".*/\2/p' "$scenario" | head -n 1)
files=(--basefile shoalwise --basefile share.sh --basefile "$name")
if [ -n "$weigh_ins" ]; then
    cp "$(dirname "$scenario")/$weigh_ins" "$folder/$weigh_ins"
    files+=(--basefile "$weigh_ins")
fi
cd "$folder"

# The command for one share. Each argument is quoted, since values may contain spaces.
printf './shoalwise sweep' >share.sh
printf ' %q' "$name" "$@" >>share.sh
printf ' --quiet --part "$1/$2" --out "part-$1" && mv "part-$1/sweep.db" "share-$1.db" && rm -r "part-$1"\n' >>share.sh

# A host that fails is left out, and another one fishes its share. A host that fails after a share but before the share
# was copied back is noticed only because the share is missing, so missing shares are tried up to three times.
for _ in 1 2 3; do
    missing=$(for part in $(seq "$shares"); do [ -s "share-$part.db" ] || echo "$part"; done)
    [ -n "$missing" ] || break
    parallel --sshlogin "$hosts" --filter-hosts --retries 6 --joblog +shares.log \
        --workdir "shoalwise-$(basename "$PWD")" "${files[@]}" \
        --return 'share-{}.db' --cleanup \
        bash share.sh '{}' "$shares" <<<"$missing" || echo "some shares failed; see $folder/shares.log" >&2
done

./shoalwise merge $(seq -f 'share-%g.db' "$shares") --out whole
