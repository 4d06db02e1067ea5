#!/bin/sh
# Checks every wall of a repository, keeps the documents, and tells what a change makes of them.
#
#   walls.sh install         install specgen from the folder that this script came with
#   walls.sh check [BASE]    check all; with BASE, a commit, compare each wall with what it was there
#   walls.sh comment NUMBER  put what changed under change request NUMBER, in place of what stood there before
#
# Written into the folder WALLS_OUT (walls-out): sarif/*.sarif, documents/*/, comment.md. Status: the worst of the walls
# (2 and 70 before 1, 1 before 3); with WALLS_ALLOW_UNKNOWN=yes a wall of which something is unknown does not count.
set -u

out=${WALLS_OUT:-walls-out}
specgen=${SPECGEN:-specgen}

worse() { # the worse of two statuses
    for one in 70 2 1 3 0; do
        if [ "$1" -eq "$one" ] || [ "$2" -eq "$one" ]; then
            echo "$one"
            return
        fi
    done
    echo 70
}

walls() { # the folders that hold a wall, one a line
    git ls-files -- 'project.yaml' '*/project.yaml' | while IFS= read -r file; do dirname -- "$file"; done
}

named() { # a folder as the name of a file
    if [ "$1" = . ]; then echo root; else printf '%s\n' "$1" | tr '/ ' '__'; fi
}

check_wall() { # check one wall and write its documents; the status of the check
    name=$(named "$1")
    "$specgen" check "$1" --format sarif >"$out/sarif/$name.sarif"
    status=$?
    "$specgen" check "$1" >"$out/$name.txt" 2>&1
    if ! "$specgen" write "$1" -o "$out/documents/$name" >"$out/$name.write.txt" 2>&1; then
        [ -f "$out/documents/$name/manifest.json" ] || echo "No documents: $(head -n 1 "$out/$name.write.txt")" >>"$out/$name.txt"
    fi
    return "$status"
}

tell() { # what one wall is now, and what differs from before; $1 folder, $2 its status, $3 where it was before
    name=$(named "$1")
    case $2 in
        0) word="nothing stands against it" ;;
        1) word="a defect or a risk stands" ;;
        3) word="something is unknown" ;;
        *) word="it could not be checked" ;;
    esac
    printf '### %s: %s\n\n' "$1" "$word"
    if [ -n "$3" ] && [ -f "$3/$1/project.yaml" ]; then
        printf 'What changed:\n\n```text\n'
        "$specgen" compare "$3/$1" "$1" 2>&1
        printf '```\n\n'
    elif [ -n "$3" ]; then
        printf 'A new wall.\n\n'
    fi
    printf '<details><summary>Findings</summary>\n\n```text\n'
    cat "$out/$name.txt"
    printf '```\n\n</details>\n\n'
}

check_all() {
    base=${1:-}
    before=
    worst=0
    mkdir -p "$out/sarif" "$out/documents"
    if [ -n "$base" ]; then
        before=$(mktemp -d)/before
        git worktree add --quiet --detach "$before" "$base" || return 2
    fi
    list=$(mktemp)
    walls >"$list"
    echo '<!-- walls -->' >"$out/comment.md"
    if [ ! -s "$list" ]; then
        echo "no project.yaml in this repository" >&2
        worst=2
    fi
    while IFS= read -r wall <&3; do
        check_wall "$wall"
        status=$?
        worst=$(worse "$worst" "$status")
        tell "$wall" "$status" "$before" >>"$out/comment.md"
    done 3<"$list"
    rm -f "$list"
    [ -z "$before" ] || git worktree remove --force "$before"
    cat "$out/comment.md"
    if [ "$worst" -eq 3 ] && [ "${WALLS_ALLOW_UNKNOWN:-}" = yes ]; then worst=0; fi
    return "$worst"
}

case ${1:-} in
    install) python3 -m pip install --quiet "$(dirname -- "$0")/../../.." ;;
    check) check_all "${2:-}" ;;
    comment) gh pr comment "${2:?the number of the change request}" --edit-last --create-if-none --body-file "$out/comment.md" ;;
    *)
        sed -n '2,9s/^# \{0,1\}//p' "$0" >&2
        exit 2
        ;;
esac
