#!/bin/bash
# One slice of a shelf of scores for each task of a Slurm array job:
#
#     sbatch --array=1-8 examples/cluster/slurm-array.sh 8 SCORES PARTS [FLAG…]
#
# The number of slices is said twice, because a task that is run again by itself
# (--array=3) cannot know how many there were. SCORES and PARTS lie on storage
# that all machines share. Slices write to different folders and never wait for
# each other.
#SBATCH --job-name=deskpart
#SBATCH --output=deskpart-%A_%a.txt
#SBATCH --cpus-per-task=2
#SBATCH --signal=B:TERM@60
set -u
slices=$1 scores=$2 parts=$3
shift 3

# Half of the memory that Slurm gave, as deskpart itself would take of a machine:
# not every cluster lets a job see its own limit.
memory=()
if [ -n "${SLURM_MEM_PER_NODE:-}" ] && [ "$SLURM_MEM_PER_NODE" -gt 1 ]; then
	memory=(--memory "$((SLURM_MEM_PER_NODE / 2))MiB")
fi

# exec: Slurm's signal before the time limit comes to deskpart, which then stops
# in good order; the same line run again goes on where it was.
# The task's exit status is deskpart's: 1 (a person should look at some file)
# shows as FAILED in sacct, and the slice is written all the same.
exec "${DESKPART:-deskpart}" extract "$scores" --out "$parts" \
	--shard "$SLURM_ARRAY_TASK_ID/$slices" --jobs "${SLURM_CPUS_PER_TASK:-1}" "${memory[@]}" "$@"
