# Shared by the steps: messages with the time spent, and checks that name the remedy.
started=$SECONDS

step() { printf '[%4ss] %s\n' "$((SECONDS - started))" "$*"; }

fail() {
    echo "virtual bench: $*" >&2
    exit 1
}

need() {
    local command missing=()
    for command in "$@"; do
        PATH=$PATH:/usr/sbin command -v "$command" >/dev/null || missing+=("$command")
    done
    PATH=$PATH:/usr/sbin
    [ ${#missing[@]} -eq 0 ] || fail "not found: ${missing[*]}. Install: apt-get install --no-install-recommends $(tr '\n' ' ' <"$BENCH/packages")"
}

need_file() { [ -e "$1" ] || fail "$1 is missing. Build it: $2"; }

# boot PART [--until MARK]: runs the board; with a mark, pulls the plug (SIGKILL) when the console shows it.
boot() {
    local part=$1 mark=${3:-} log=$TARGET/console-$1.log limit_s=${VIRTUAL_BENCH_LIMIT_S:-480} begun=$SECONDS qemu
    : >"$log"
    # writethrough: what the board believes to be on the disk is in the file when the plug is pulled.
    qemu-system-aarch64 -M virt -cpu cortex-a72 -smp 2 -m 1024 -accel tcg,thread=multi \
        -dtb "$TARGET/board.dtb" -kernel "$TARGET/vmlinuz" -initrd "$TARGET/initramfs.cpio" \
        -drive "file=$TARGET/system.img,format=raw,if=virtio,readonly=on" \
        -drive "file=$TARGET/data.img,format=raw,if=virtio,cache=writethrough" \
        -append "console=ttyAMA0 quiet loglevel=4 panic=-1 random.trust_cpu=on bench.part=$part bench.now=$(date +%s)" \
        -display none -monitor none -serial "file:$log" -no-reboot -nic none </dev/null &
    qemu=$!
    trap 'kill -KILL $qemu 2>/dev/null || true' EXIT
    while kill -0 "$qemu" 2>/dev/null; do
        if [ -n "$mark" ] && grep -aqF "$mark" "$log"; then
            kill -KILL "$qemu"
            break
        fi
        if [ $((SECONDS - begun)) -gt "$limit_s" ]; then
            tail -n 40 "$log" >&2
            fail "part '$part' did not end within $limit_s s; the whole console is in $log"
        fi
        sleep 0.2
    done
    wait "$qemu" 2>/dev/null || true
    trap - EXIT
    if [ -n "$mark" ] && ! grep -aqF "$mark" "$log"; then
        tail -n 40 "$log" >&2
        fail "part '$part' ended without reaching '$mark'; the whole console is in $log"
    fi
    grep -aE '^(BENCH|ok|FAILED)' "$log" || true
}

# One line for a person and for a program; the exit code says whether all passed.
summary() {
    local total failed
    total=$(cat "$1"/*.xml 2>/dev/null | grep -c '<testcase ' || true)
    failed=$(cat "$1"/*.xml 2>/dev/null | grep -c '<failure>' || true)
    step "$((total - failed)) passed, $failed failed; JUnit XML in $1"
    [ "$total" -gt 0 ] || fail "no scenario ran; the consoles are $TARGET/console-*.log"
    [ "$failed" -eq 0 ] || exit 1
}
