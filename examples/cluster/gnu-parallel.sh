#!/bin/bash
# Slices of a shelf of scores under GNU parallel, on this machine or on several:
#
#     examples/cluster/gnu-parallel.sh 4 SCORES PARTS [FLAG…]
#     PARALLEL_SLICES="--sshlogin music1,music2 --jobs 1" examples/cluster/gnu-parallel.sh 4 SCORES PARTS
#
# On one machine a single deskpart uses all processors by itself; slices are for
# several machines that share SCORES and PARTS. A slice that was stopped goes on
# where it was when it is run again. The exit status is the number of slices that
# did not end with 0, as GNU parallel has it.
set -u
slices=$1 scores=$2 parts=$3
shift 3
# shellcheck disable=SC2086  # several flags in one variable
exec parallel ${PARALLEL_SLICES:-} --keep-order --quote --halt never \
	"${DESKPART:-deskpart}" extract "$scores" --out "$parts" --shard "{}/$slices" "$@" \
	::: $(seq "$slices")
