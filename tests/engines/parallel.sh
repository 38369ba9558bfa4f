#!/usr/bin/env bash
# GNU parallel over two ssh servers on this machine, one of which is killed half-way: the result must be the same bytes.
set -euo pipefail

scripts=$1 program=$2 here=$PWD
export SHOALWISE=$program HOME=$here/home
mkdir -p home .ssh servers && chmod 700 .ssh
sweep=(--plan bar-five-minutes --vary "plan.bar-five-minutes.recast=30 s..20 min/4 log" --days 192 --threads 1)
demo=$(dirname "$scripts")/tern-bar.toml

# Kills a process and all its children.
kill_tree() {
    local child
    for child in $(ps -o pid= --ppid "$1"); do kill_tree "$child"; done
    kill -KILL "$1" 2>/dev/null || true
}

ssh-keygen -q -t ed25519 -N '' -f .ssh/key
ssh-keygen -q -t ed25519 -N '' -f servers/host
cp .ssh/key.pub servers/authorized
mkdir -p /run/sshd
declare -A port pid
for pc in pc1 pc2; do
    # Any free port. SHLVL=2 keeps bash from reading the account's own .bashrc.
    port[$pc]=$(python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])')
    "$(command -v sshd || echo /usr/sbin/sshd)" -D -e -f /dev/null -p "${port[$pc]}" -h "$here/servers/host" \
        -o ListenAddress=127.0.0.1 -o "AuthorizedKeysFile=$here/servers/authorized" -o StrictModes=no \
        -o PidFile=none -o UsePAM=no -o PermitRootLogin=yes -o PasswordAuthentication=no -o SetEnv=SHLVL=2 2>"servers/$pc.log" &
    pid[$pc]=$!
    printf 'Host %s\n  HostName 127.0.0.1\n  Port %s\n  IdentityFile %s/.ssh/key\n  StrictHostKeyChecking no\n  UserKnownHostsFile /dev/null\n  LogLevel ERROR\n' \
        "$pc" "${port[$pc]}" "$here" >>.ssh/config
done
trap 'for pc in pc1 pc2; do kill_tree "${pid[$pc]}"; done; rm -rf ~root/shoalwise-night-$$ "$far"' EXIT
far=$(getent passwd "$(id -u)" | cut -d: -f6)/shoalwise-night-$$
# OpenSSH reads the configuration of the account, not of $HOME, so it is named.
mkdir -p bin
printf '#!/bin/sh\nexec %s -F %s/.ssh/config "$@"\n' "$(command -v ssh)" "$here" >bin/ssh && chmod +x bin/ssh
export PATH=$here/bin:$PATH PARALLEL_SSH=$here/bin/ssh RSYNC_RSH=$here/bin/ssh
for pc in pc1 pc2; do
    for _ in $(seq 100); do ssh "$pc" true 2>/dev/null && break; sleep 0.1; done
    ssh "$pc" true
done
mkdir -p home/.parallel && touch home/.parallel/will-cite

"$program" sweep "$demo" "${sweep[@]}" --quiet --out one-machine >/dev/null

"$scripts/club-pcs.sh" 1/pc1,1/pc2 8 "night-$$" "$demo" "${sweep[@]}" >club.out 2>club.err &
club=$!
for _ in $(seq 1200); do
    compgen -G "night-$$/share-*.db" >/dev/null && break
    kill -0 "$club" 2>/dev/null || break
    sleep 0.05
done
kill_tree "${pid[pc1]}"
echo "pc1 was killed with $(compgen -G "night-$$/share-*.db" | wc -l) of 8 shares back"
wait "$club" || { cat club.out club.err >&2; exit 1; }
cat "night-$$/shares.log"
# A share must have failed on pc1 and been given to pc2.
awk 'NR > 1 && $2 ~ /pc1/ { one++ } NR > 1 && $2 ~ /pc2/ { two++ } END { exit !(two > one) }' "night-$$/shares.log"
for file in vary.csv vary.json vary-bar-five-minutes.svg stamp.json; do
    cmp "one-machine/$file" "night-$$/whole/$file"
done
echo "the same bytes"
