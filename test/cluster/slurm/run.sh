#!/bin/bash
# Shows that a study in shards on a Slurm cluster gives what a single run gives, to the bit.
#
# Installs Debian's slurm-wlm and munge where they are missing (needs root), starts a cluster of one node on the loopback with
# its own configuration, key, ports and folders, submits a job array, joins the partial results, compares every file with a
# single run, loses one shard, sees it named, does it again, and stops what it started. Nothing of an installed Slurm is used
# or changed.
#
#   test/cluster/slurm/run.sh [shards] [samples]
set -euo pipefail

SHARDS=${1:-8}
SAMPLES=${2:-2000000}
REPOSITORY=$(cd "$(dirname "$0")/../../.." && pwd)
export SHARDS SAMPLES
export SCENARIO=$REPOSITORY/scenarios/laminating-roller.yaml
export SEATSPREAD=$REPOSITORY/.build/seatspread.js
NAME=laminating-roller

say() { printf '\n== %s\n' "$*"; }

if ! command -v slurmctld slurmd sbatch munged >/dev/null; then
  say "Installing slurm-wlm and munge"
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends slurm-wlm munge >/dev/null
fi
[ -f "$SEATSPREAD" ] || (cd "$REPOSITORY" && npm run build --silent)

WORK=$(mktemp -d)
STARTED=()
finish() {
  for pid in "${STARTED[@]}"; do kill "$pid" 2>/dev/null || true; done
  for pid in "${STARTED[@]}"; do wait "$pid" 2>/dev/null || true; done
  rm -rf "$WORK"
}
trap finish EXIT

say "Starting a cluster of one node"
HOST=$(hostname -s)
CORES=$(nproc)
MEMORY=$(awk '/MemTotal/ { print int($2 / 1024) }' /proc/meminfo)
mkdir -p "$WORK"/{munge,state,spool,logs}
chmod 0755 "$WORK"
chmod 0700 "$WORK/munge"
dd if=/dev/urandom of="$WORK/munge/key" bs=1024 count=1 status=none
chmod 0600 "$WORK/munge/key"
# --force: the folder above belongs to whoever runs this, not to the system's munge user.
munged --foreground --force --key-file "$WORK/munge/key" --socket "$WORK/munge/socket" --pid-file "$WORK/munge/pid" \
  --log-file "$WORK/logs/munged" --seed-file "$WORK/munge/seed" >"$WORK/logs/munged.out" 2>&1 &
STARTED+=($!)

cat >"$WORK/slurm.conf" <<CONF
ClusterName=loopback
SlurmctldHost=$HOST(127.0.0.1)
SlurmctldPort=16817
SlurmdPort=16818
SlurmUser=$(id -un)
SlurmdUser=$(id -un)
AuthType=auth/munge
AuthInfo=socket=$WORK/munge/socket
CredType=cred/munge
StateSaveLocation=$WORK/state
SlurmdSpoolDir=$WORK/spool
SlurmctldPidFile=$WORK/state/slurmctld.pid
SlurmdPidFile=$WORK/spool/slurmd.pid
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
SlurmdParameters=config_overrides
ReturnToService=2
MpiDefault=none
NodeName=$HOST NodeAddr=127.0.0.1 CPUs=$CORES RealMemory=$MEMORY State=UNKNOWN
PartitionName=local Nodes=ALL Default=YES MaxTime=INFINITE State=UP
CONF
export SLURM_CONF=$WORK/slurm.conf
for _ in $(seq 50); do [ -S "$WORK/munge/socket" ] && break; sleep 0.2; done
slurmctld -D -f "$SLURM_CONF" >"$WORK/logs/slurmctld" 2>&1 &
STARTED+=($!)
slurmd -D -f "$SLURM_CONF" >"$WORK/logs/slurmd" 2>&1 &
STARTED+=($!)
for attempt in $(seq 100); do
  sinfo -h -o %T 2>/dev/null | grep -q '^idle' && break
  if [ "$attempt" = 100 ]; then
    tail -n 20 "$WORK"/logs/*
    exit 1
  fi
  sleep 0.3
done
sinfo --version
sinfo

cd "$WORK"
submit() { sbatch --parsable --wait --array="$1" "$REPOSITORY/test/cluster/slurm/shards.sbatch"; }

say "A single run of $SAMPLES units"
export OUT=$WORK/single
time { node "$SEATSPREAD" run "$SCENARIO" --samples "$SAMPLES" --out "$OUT" --quiet >single.txt || [ $? = 1 ]; }

say "A job array of $SHARDS shards"
export OUT=$WORK/cluster
time submit "1-$SHARDS"
cat shard-*.log
SHARD_FILES=("$OUT/$NAME/shards/"*.arrow)
[ ${#SHARD_FILES[@]} = "$SHARDS" ] || { echo "not every shard was written" >&2; exit 1; }

merge_and_compare() {
  time { node "$SEATSPREAD" merge "$OUT/$NAME/shards/"*.arrow --out "$OUT" --quiet >merged.txt || [ $? = 1 ]; }
  for file in result.json summary.arrow samples.arrow report.html; do
    cmp "$WORK/single/$NAME/$file" "$OUT/$NAME/$file"
    echo "$file: the same to the bit ($(stat -c %s "$OUT/$NAME/$file") bytes)"
  done
}

say "Joining them"
merge_and_compare

say "One shard lost, named, and done again"
LOST=$((SHARDS / 2 + 1))
rm "$OUT/$NAME/shards/shard-$(printf '%02d-of-%02d' "$LOST" "$SHARDS").arrow" "$OUT/$NAME/result.json"
code=0
node "$SEATSPREAD" merge "$OUT/$NAME/shards/"*.arrow --out "$OUT" --quiet >/dev/null 2>refused.txt || code=$?
cat refused.txt
[ $code = 2 ] && grep -q "shard $LOST of $SHARDS" refused.txt
submit "$LOST"
merge_and_compare

say "Done: $SHARDS shards, $SAMPLES units, the same to the bit as a single run"
