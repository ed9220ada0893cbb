# Drives the real window under a virtual display. Sourced by the scripts beside it, which say what is
# done in it.

program="${GAZEWRIGHT:-target/debug/gazewright}"
work="$(mktemp -d)"
display=":$((100 + RANDOM % 400))"
running=()
finish() {
    for process in "${running[@]}"; do kill "$process" 2>/dev/null || true; done
    rm -rf "$work"
}
trap finish EXIT

fail() {
    echo "$(basename "$0"): $*" >&2
    exit 1
}

Xvfb "$display" -screen 0 1280x800x24 -nolisten tcp >"$work/display.log" 2>&1 &
running+=($!)
export DISPLAY="$display" LIBGL_ALWAYS_SOFTWARE=1
# Nothing of the maker's own is read or written.
export GAZEWRIGHT_DATA="$work/data"
for _ in $(seq 50); do
    xdotool getdisplaygeometry >/dev/null 2>&1 && break
    sleep 0.2
done

# Opens the window on a file, at the size of the picture.
open_window() {
    "$program" "$1" 2>"$work/program.log" &
    window_process=$!
    running+=("$window_process")
    window="$(timeout 60 xdotool search --sync --onlyvisible --pid "$window_process" | head -n 1)"
    [ -n "$window" ] || fail "no window appeared: $(cat "$work/program.log")"
    xdotool windowmove "$window" 0 0 windowsize "$window" 1280 800 windowfocus "$window"
    # A slow machine shows the window empty for a while.
    for _ in $(seq 120); do
        [ "$(import -window root png:- | identify -format %k -)" -lt 100 ] || break
        sleep 0.5
    done
    settle
}

# Waits until two pictures in a row are the same.
settle() {
    local before=""
    for _ in $(seq 60); do
        sleep 0.5
        local now
        now="$(import -window root rgb:- | md5sum)"
        [ "$now" = "$before" ] && return
        before="$now"
    done
    fail "the window does not come to rest"
}

keys() {
    xdotool key --clearmodifiers "$1"
    settle
}

close_window() {
    keys ctrl+q
    for _ in $(seq 50); do
        kill -0 "$window_process" 2>/dev/null || return 0
        sleep 0.2
    done
    fail "the window does not close"
}
