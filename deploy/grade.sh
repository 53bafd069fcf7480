#!/bin/sh
# Grades every report of a course with nothing but curl, waits for the end and writes the grades as CSV.
#
#   DERIVID_KEY=... deploy/grade.sh COURSE [MARK] > grades.csv
#
# DERIVID_SERVER is the service's address (default http://127.0.0.1:5080); the key needs the role grader and must be
# of the course's staff (derivid course staff COURSE --add key:PUBLIC-PART). Each run grades anew. With a MARK, a word of
# yours, running it again with the same MARK starts no second grading: the grades are those of the first, which the script
# says, and whatever was handed in since is not among them. The key goes to curl through a file descriptor, so that it
# stands in no process list.
set -eu
course=${1:?usage: grade.sh COURSE [MARK]}
mark=${2:-}
server=${DERIVID_SERVER:-http://127.0.0.1:5080}

call() {
    printf 'header = "Authorization: Bearer %s"\n' "${DERIVID_KEY:?set DERIVID_KEY}" |
        curl --silent --show-error --fail-with-body --config - "$@"
}

# The first of the named fields: the service writes compact JSON, a grading's own fields first.
field() { tr ',{' '\n\n' | sed -n "s/^\"$1\":\"\\([^\"]*\\)\".*/\\1/p" | head -n 1; }

# Each answer is kept before a field is taken from it: a refusal then ends the script here, with the problem document shown.
answer=$(call "$server/api/v1/courses/$course/grades" \
    -H 'Content-Type: application/json' ${mark:+-H "Idempotency-Key: $mark"} -d '{}') || { echo "$answer" >&2; exit 1; }
grading=$(echo "$answer" | field id)
case $answer in
    *'"isEarlier":true'*)
        echo "grading $grading was asked for with this mark at $(echo "$answer" | field createdAt); nothing is graded anew" >&2 ;;
esac
while :; do
    answer=$(call "$server/api/v1/courses/$course/gradings/$grading") || { echo "$answer" >&2; exit 1; }
    state=$(echo "$answer" | field state)
    case $state in
        finished) break ;;
        *) echo "grading $grading: $state" >&2; sleep 1 ;;
    esac
done
call "$server/api/v1/courses/$course/grades?grading=$grading" -H 'Accept: text/csv'
