#!/bin/bash
# Tries slurm-array.sh under a real Slurm of one machine: starts munged, slurmctld
# and slurmd of its own (Debian's slurm-wlm) in a temporary folder, on the loopback
# address alone; runs the slices as an array job; loses a score's parts and runs
# the slices again; and checks that their union is what a single run writes, byte
# for byte. Cleans up and ends only what it started.
#
#     examples/cluster/try-slurm.sh [SCORES]      (default: copies of examples/)
#
# Exit status: 0 equal, 1 not, 77 Slurm is not installed.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
slices=4
PATH=$PATH:/usr/sbin

for tool in munged slurmctld slurmd sbatch sinfo; do
	if ! command -v "$tool" >/dev/null; then
		echo "try-slurm: $tool is not installed; apt-get install slurm-wlm munge" >&2
		exit 77
	fi
done

work=$(mktemp -d)
started=()
clean_up() {
	status=$?
	trap - EXIT
	for pid in "${started[@]}"; do kill "$pid" 2>/dev/null || true; done
	for pid in "${started[@]}"; do wait "$pid" 2>/dev/null || true; done
	if [ "$status" -ne 0 ]; then tail -n 20 "$work"/*.log "$work"/deskpart-*.txt >&2 2>/dev/null || true; fi
	rm -rf "$work"
	exit "$status"
}
trap clean_up EXIT
trap 'exit 130' INT TERM

# Runs a daemon in the foreground of its own process, so that its id is known.
start() {
	local log=$work/$1.log
	shift
	"$@" >>"$log" 2>&1 &
	started=("$!" "${started[@]}") # the last one started is ended first
}

wait_for() {
	for _ in $(seq 150); do
		if "$@" >/dev/null 2>&1; then return 0; fi
		sleep 0.2
	done
	echo "try-slurm: waited in vain for: $*" >&2
	return 1
}

free_port() {
	for port in $(seq "$1" "$(($1 + 200))"); do
		if ! (: <"/dev/tcp/127.0.0.1/$port") 2>/dev/null; then echo "$port"; return; fi
	done
	return 1
}

# The cluster.
chmod 755 "$work"
mkdir -m 700 "$work/munge" "$work/state" "$work/spool"
head -c 1024 /dev/urandom >"$work/munge/key"
chmod 600 "$work/munge/key"
mkdir -m 755 "$work/socket"
start munged munged --foreground --force --key-file "$work/munge/key" --socket "$work/socket/munge" \
	--pid-file "$work/munge/pid" --log-file "$work/munge/log" --seed-file "$work/munge/seed"
wait_for test -S "$work/socket/munge"

export SLURM_CONF=$work/slurm.conf
controller_port=$(free_port 27817)
node=$(hostname -s)
user=$(id -un)
cat >"$SLURM_CONF" <<CONF
ClusterName=try
SlurmctldHost=$node(127.0.0.1)
SlurmctldPort=$controller_port
SlurmdPort=$(free_port $((controller_port + 1)))
SlurmUser=$user
SlurmdUser=$user
AuthType=auth/munge
AuthInfo=socket=$work/socket/munge
CredType=cred/munge
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmdParameters=config_overrides
ProctrackType=proctrack/pgid
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SchedulerParameters=sched_interval=1,batch_sched_delay=0
MpiDefault=none
ReturnToService=2
NodeName=$node NodeAddr=127.0.0.1 CPUs=2 State=UNKNOWN
PartitionName=all Nodes=$node Default=YES MaxTime=30 State=UP
CONF
start slurmctld slurmctld -D
start slurmd slurmd -D -N "$node"
wait_for sh -c 'sinfo --noheader --format=%t | grep -qx idle'
echo "Slurm $(sinfo --version | cut -d' ' -f2) is up: $(sinfo --noheader --format='%D machine, %c processors')"

# The scores: by default the examples, many times over in folders of their own.
scores=${1:-$work/scores}
if [ $# -eq 0 ]; then
	for shelf in north/1 north/2 south/1 south/2 east; do
		mkdir -p "$scores/$shelf"
		cp "$root"/examples/*.musicxml "$scores/$shelf/"
	done
fi
export DESKPART=${DESKPART:-$work/deskpart}
if [ "$DESKPART" = "$work/deskpart" ]; then (cd "$root" && go build -o "$DESKPART" ./cmd/deskpart); fi

# deskpart's exit status 1 (a person should look) is no failure of the trial, as
# long as all slices and the single run agree.
submit() {
	(cd "$work" && sbatch --wait --quiet --cpus-per-task=1 "--array=$1" "$here/slurm-array.sh" "$slices" "$scores" "$work/sliced") || [ $? -eq 1 ]
}
fail() {
	echo "try-slurm: $*" >&2
	exit 1
}
submit "1-$slices"
[ "$(find "$work" -name 'deskpart-*_*.txt' | wc -l)" -eq "$slices" ] || fail "not every slice ran"
lost=$(dirname "$(find "$work/sliced" -name manifest.json | sort | tail -n 1)")
rm -r "$lost"
submit "1-$slices"
[ -f "$lost/manifest.json" ] || fail "what was lost was not written again"
"$DESKPART" extract "$scores" --out "$work/single" >"$work/single.txt" 2>&1 || [ $? -eq 1 ]
diff --recursive "$work/single" "$work/sliced"
files=$(find "$work/single" -type f | wc -l)
[ "$files" -gt 0 ] || fail "nothing was written"
echo "equal: $files files in $slices slices and in a single run"
