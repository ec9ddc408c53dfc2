#!/usr/bin/env bash
# Proves the job-array script on a real Slurm of one node: this machine.
#
# Needs root and Debian's packages slurm-wlm and munge. Starts munge, a controller and a node in
# a folder of their own, runs a sweep as an array of three parts, kills one part and has it
# requeued, merges, and holds the result against a plain run. Stops all it started.
#
#   one_node.sh PATH-OF-hensward
set -euo pipefail

program=$(realpath "${1:?give the path of the program}")
here=$(realpath "$(dirname "$0")")
work=$(mktemp -d)
started=()
end() {
    for ((i = ${#started[@]} - 1; i >= 0; i--)); do kill "${started[i]}" 2>/dev/null || true; done
    wait 2>/dev/null || true
    rm -rf "$work"
}
trap end EXIT

# Munge: a key and a socket of our own; it insists on strict owners.
chmod 755 "$work"
mkdir -m 700 "$work/munge"
mkdir -m 755 "$work/munge/run"
chmod 711 "$work/munge"
dd if=/dev/urandom of="$work/munge/key" bs=1024 count=1 status=none
chmod 400 "$work/munge/key"
/usr/sbin/munged --foreground --force --key-file="$work/munge/key" --socket="$work/munge/run/socket" \
    --pid-file="$work/munge/run/pid" --log-file="$work/munge/log" --seed-file="$work/munge/seed" &
started+=($!)

node=$(hostname -s)
mkdir -p "$work/state" "$work/spool"
cat >"$work/slurm.conf" <<CONF
ClusterName=proof
SlurmctldHost=$node(127.0.0.1)
SlurmUser=root
SlurmctldPort=17817
SlurmdPort=17818
AuthType=auth/munge
AuthInfo=socket=$work/munge/run/socket
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmctldLogFile=$work/slurmctld.log
SlurmdLogFile=$work/slurmd.log
ReturnToService=2
MpiDefault=none
JobRequeue=1
NodeName=$node NodeAddr=127.0.0.1 CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=$node Default=YES MaxTime=INFINITE State=UP
CONF
export SLURM_CONF=$work/slurm.conf
slurmctld -D -f "$SLURM_CONF" &
started+=($!)
slurmd -D -f "$SLURM_CONF" -N "$node" &
started+=($!)
for _ in $(seq 60); do
    sinfo --noheader --format=%T 2>/dev/null | grep --quiet --extended-regexp 'idle|mixed|alloc' && break
    sleep 1
done
sinfo

sweep=(sallowmere --vary birds=2..40/1 --draws "${DRAWS:-6}" --seed 3)
cd "$work"
export HENSWARD=$program
job=$(sbatch --parsable --array=1-3 --output="$work/task-%a.log" "$here/sweep.sbatch" "$work/parts" "${sweep[@]}")
echo "job $job: three parts; the second is killed and requeued as soon as it has finished a block"
for _ in $(seq 600); do
    part=$work/parts/part-2-of-3.sweep
    if [ -f "$part" ] && [ "$(grep --count ' B ' "$part" || true)" -ge 1 ]; then break; fi
    sleep 0.2
done
scontrol requeue "${job}_2"
blocks=$(grep --count ' B ' "$part")
echo "killed with $blocks finished blocks kept"
grep --quiet ' E ' "$part" && { echo "the part was finished before it could be killed: raise DRAWS" >&2; exit 1; }
# A requeued job waits some two minutes by Slurm's own rule.
while [ -n "$(squeue --noheader --jobs="$job" 2>/dev/null)" ]; do sleep 2; done
cat "$work"/task-*.log
"$program" merge "$work"/parts/part-*-of-3.sweep --out "$work/merged" --quiet >/dev/null
"$program" sweep "${sweep[@]}" --out "$work/plain" --quiet >/dev/null
diff --recursive --exclude=.hensward "$work/merged" "$work/plain"
echo "three parts under Slurm, one killed and requeued: the bytes of one run"
