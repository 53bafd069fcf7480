#!/bin/sh
# Restores a dump made by backup.sh into an empty database: whole, or not at all.
#   restore.sh DUMP
# Which database: PGHOST, PGPORT, PGDATABASE, PGUSER (derivid_owner, where roles.sql made the roles), PGPASSWORD.
# Nothing is overwritten: a database that holds anything is refused. Restore beside the old one, then point the service at it.
set -eu

[ $# -eq 1 ] || { echo "usage: restore.sh DUMP" >&2; exit 2; }
dump=$1
: "${PGDATABASE:?names no database}"

pg_restore --list "$dump" | grep -q 'TABLE DATA public table_versions ' \
    || { echo "restore.sh: $dump can't be read as a dump of Derivid" >&2; exit 1; }

found=$(psql --no-psqlrc --quiet --tuples-only --no-align --command "
    SELECT count(*) FROM pg_class JOIN pg_namespace ON pg_namespace.oid = relnamespace
    WHERE nspname <> 'information_schema' AND nspname NOT LIKE 'pg\_%'")
[ "$found" -eq 0 ] \
    || { echo "restore.sh: $PGDATABASE isn't empty ($found tables, indexes and sequences); nothing was done" >&2; exit 1; }

pg_restore --exit-on-error --single-transaction --no-owner --no-privileges --dbname="$PGDATABASE" "$dump"
PGOPTIONS='-c client_min_messages=error' psql --no-psqlrc --quiet --command ANALYZE
echo "restored $dump into $PGDATABASE"
