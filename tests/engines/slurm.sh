#!/usr/bin/env bash
# A Slurm cluster of two nodes on this machine, one of which is killed half-way: the result must be the same bytes.
set -euo pipefail

scripts=$1 program=$2 here=$PWD
export SHOALWISE=$program SLURM_CONF=$here/slurm.conf
sweep=(--plan bar-five-minutes --vary "plan.bar-five-minutes.recast=30 s..20 min/4 log" --days 192)
demo=$(dirname "$scripts")/tern-bar.toml
PATH=$PATH:/usr/sbin

kill_tree() {
    local child
    for child in $(ps -o pid= --ppid "$1"); do kill_tree "$child"; done
    kill -KILL "$1" 2>/dev/null || true
}
port() { python3 -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])'; }

chmod 755 "$here"
mkdir -m 755 munge state
mkdir -m 700 key
dd if=/dev/urandom of=key/munge.key bs=1024 count=1 status=none
chmod 400 key/munge.key
munged --foreground --force --key-file="$here/key/munge.key" --socket="$here/munge/socket" \
    --pid-file="$here/munge/pid" --log-file="$here/key/log" --seed-file="$here/key/seed" >munge.out 2>&1 &
munge=$!
cat >slurm.conf <<CONF
ClusterName=pond
SlurmctldHost=$(hostname -s)(127.0.0.1)
SlurmctldPort=$(port)
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
AuthInfo=socket=$here/munge/socket
CredType=cred/munge
StateSaveLocation=$here/state
SlurmdSpoolDir=$here/spool-%n
SlurmctldPidFile=$here/slurmctld.pid
SlurmdPidFile=$here/slurmd-%n.pid
SlurmctldLogFile=$here/slurmctld.log
SlurmdLogFile=$here/slurmd-%n.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
MpiDefault=none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SlurmdParameters=config_overrides
ReturnToService=2
SlurmdTimeout=6
MinJobAge=3600
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
SwitchType=switch/none
NodeName=pc1 NodeHostname=$(hostname -s) NodeAddr=127.0.0.1 Port=$(port) CPUs=1 State=UNKNOWN
NodeName=pc2 NodeHostname=$(hostname -s) NodeAddr=127.0.0.1 Port=$(port) CPUs=1 State=UNKNOWN
PartitionName=club Nodes=pc1,pc2 Default=YES MaxTime=INFINITE State=UP
CONF
slurmctld -D >ctl.out 2>&1 &
control=$!
slurmd -D -N pc1 >pc1.out 2>&1 &
one=$!
slurmd -D -N pc2 >pc2.out 2>&1 &
two=$!
trap 'for process in $one $two $control $munge; do kill_tree "$process"; done' EXIT
complain() { tail -n 20 ./*.out ./*.log >&2; squeue >&2 || true; sinfo >&2 || true; exit 1; }

"$program" sweep "$demo" "${sweep[@]}" --quiet --out one-machine >/dev/null
for _ in $(seq 300); do [ "$(sinfo -h -t idle -o %D 2>/dev/null)" = 2 ] && break; sleep 0.2; done
[ "$(sinfo -h -t idle -o %D)" = 2 ] || complain

job=$(sbatch --parsable --array=1-8 --output=task-%a.out "$scripts/cluster.sbatch" "$here/night" "$demo" "${sweep[@]}")
for _ in $(seq 1200); do
    [ "$(squeue -h -t running -w pc1 -o %i 2>/dev/null | wc -l)" = 1 ] &&
        compgen -G "night/part-*/sweep.db" >/dev/null && break
    sleep 0.05
done
lost=$(squeue -h -t running -w pc1 -o %i)
# Simulates a machine that is switched off: kills its daemon and the step that it started, with all children.
step=$(pgrep -f "night/part-${lost##*_}\$" | head -n 1)
while [ "$(ps -o ppid= -p "$step" | tr -d ' ')" -gt 1 ] && [ "$(ps -o ppid= -p "$step" | tr -d ' ')" != "$one" ]; do
    step=$(ps -o ppid= -p "$step" | tr -d ' ')
done
kill_tree "$one"
kill_tree "$step"
echo "pc1 was killed while it fished ${lost:-nothing}"
released=
for _ in $(seq 900); do
    left=$(squeue -h -r -o '%i %T %r' || true)
    [ -z "$left" ] && break
    # Slurm holds a task that lost its node for two minutes; release it at once.
    for task in $(awk '$2 == "PENDING" && $3 == "BeginTime" { print $1 }' <<<"$left"); do
        scontrol update JobId="$task" StartTime=now && released="$released $task"
    done
    sleep 0.3
done
[ -z "$(squeue -h)" ] || complain
grep -hi 'requeue\|due to failure' slurmctld.log | tail -n 3 || complain
cat task-*.out
"$program" merge night/part-* --quiet --out night/whole >/dev/null || complain
for file in vary.csv vary.json vary-bar-five-minutes.svg stamp.json; do
    cmp "one-machine/$file" "night/whole/$file"
done
echo "the same bytes"
