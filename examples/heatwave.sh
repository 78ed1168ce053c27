#!/bin/sh
# A heatwave in the middle of the week, on the invented terrace: planned on Monday, looked at again
# on Wednesday, and the week's true weather lived through with the changed and the unchanged plan.
#   sh examples/heatwave.sh                      builds Runnel first, works in build/heatwave
#   sh examples/heatwave.sh PROGRAM [FOLDER]     with a runnel that is built already
set -eu
cd "$(dirname "$0")/.."
[ $# -gt 0 ] || sh examples/first-week.sh >/dev/null

runnel=${1:-$PWD/build/release/cli/runnel}
story=$PWD/examples/heatwave
garden=${2:-$PWD/build/heatwave}
mkdir -p "$garden"
cp examples/terrace/garden.yaml examples/terrace/weather.csv "$garden"
cd "$garden"

say() { printf '%s\n%s\n\n' "$1" "$(printf '%s' "$1" | sed 's/./=/g')"; }
happened() { grep -E "^2027-07-($1)," "$story/happened.csv" >>weather.csv; }
expected() { cp "$story/forecast-$1.csv" forecast.csv; }
# Ends with 1 where a zone cannot be kept unharmed: part of the story.
run() { "$runnel" "$@" 2>>doubts.txt || [ $? -eq 1 ]; }
settings() { sed '/^WEATHER TAKEN/,$d'; }
past() { sed -n '/^HOW THE DAYS/,/^$/p'; }

: >doubts.txt
say 'Monday morning: runnel plan garden.yaml --save monday.yaml'
expected monday
run plan garden.yaml --save monday.yaml --replace | settings

say 'Wednesday evening: runnel replan garden.yaml --after monday.yaml --save wednesday.yaml'
happened '12|13|14'
expected wednesday
run replan garden.yaml --after monday.yaml --save wednesday.yaml --replace
echo

say 'Next Monday: runnel plan garden.yaml --after wednesday.yaml'
happened '15|16|17|18'
expected next-monday
run plan garden.yaml --after wednesday.yaml | past

say 'Had nobody looked on Wednesday: runnel plan garden.yaml --after monday.yaml'
run plan garden.yaml --after monday.yaml | past
