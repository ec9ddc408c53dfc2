#!/usr/bin/env bash
# Runs a job-array script on this machine, task after task, with the variables Slurm would set:
#
#   array_here.sh N SCRIPT ARGUMENT…
set -euo pipefail

count=${1:?give the number of tasks}
script=${2:?give the job-array script}
shift 2
for task in $(seq "$count"); do
    SLURM_ARRAY_TASK_ID=$task SLURM_ARRAY_TASK_COUNT=$count SLURM_ARRAY_TASK_MIN=1 \
        SLURM_ARRAY_TASK_MAX=$count SLURM_ARRAY_TASK_STEP=1 SLURM_CPUS_PER_TASK=1 \
        bash "$script" "$@"
done
