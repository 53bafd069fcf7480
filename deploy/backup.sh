#!/bin/sh
# Writes one dump of the whole database into a folder, proves that it can be read, and prints its path.
#   backup.sh FOLDER [DAYS]     DAYS: dumps older than that are deleted, once the new one is good
# Which database: PGHOST, PGPORT, PGDATABASE, PGUSER, PGPASSWORD (or a password file), as for every PostgreSQL client.
# Safe while the service runs: the dump is the state at one moment. It holds hashes of keys and what is in the vials, so
# that only its owner may read it.
set -eu
umask 077

case $# in 1 | 2) ;; *) echo "usage: backup.sh FOLDER [DAYS]" >&2; exit 2 ;; esac
folder=$1
days=${2:-}
case $days in *[!0-9]*) echo "backup.sh: DAYS is '$days'; a whole number is wanted" >&2; exit 2 ;; esac
: "${PGDATABASE:?names no database}"

dump=$folder/$PGDATABASE-$(date -u +%Y%m%dT%H%M%SZ).dump
part=$dump.part
[ ! -e "$dump" ] || { echo "backup.sh: $dump is there already" >&2; exit 1; }
trap 'rm -f "$part"' EXIT

# Owners and rights are those of the database restored into; roles.sql sets them.
pg_dump --format=custom --no-owner --no-privileges --file="$part"
pg_restore --list "$part" | grep -q 'TABLE DATA public table_versions ' \
    || { echo "backup.sh: the dump holds no table of Derivid; is $PGDATABASE its database?" >&2; exit 1; }
pg_restore --file=/dev/null "$part" # reads every row, not only the list of contents
sync "$part"
mv "$part" "$dump"

if [ -n "$days" ]; then
    find "$folder" -maxdepth 1 -name "$PGDATABASE-*.dump" -mtime "+$days" -delete
fi
echo "$dump"
