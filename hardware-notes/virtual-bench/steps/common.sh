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

# The longest that everything together may take; the scenarios themselves wait in the board's own time.
limit_s=${VIRTUAL_BENCH_LIMIT_S:-600}

# boot PART: runs the board until it ends. The board's clock counts instructions (one a nanosecond) and skips what it would
# idle away, so what a scenario sees does not depend on how busy this machine is.
boot() {
    local part=$1 log=$TARGET/console-$1.log qemu shown=0
    : >"$log"
    # kpti=off: hiding the kernel from programs at each of their calls costs an emulator half its time.
    # unsafe: what the board wrote is in the file when the board ends, and this machine is not made to sync it.
    qemu-system-aarch64 -M virt -cpu cortex-a72 -smp 1 -m 1024 -accel tcg -icount shift=0,sleep=off -rtc clock=vm \
        -dtb "$TARGET/board.dtb" -kernel "$TARGET/vmlinuz" -initrd "$TARGET/initramfs.cpio" \
        -drive "file=$system_image,format=raw,if=virtio,readonly=on" \
        -drive "file=$TARGET/data.img,format=raw,if=virtio,cache=unsafe" \
        -drive "file=$TARGET/results.img,format=raw,if=virtio,cache=unsafe" \
        -drive "file=$TARGET/program.img,format=raw,if=virtio,readonly=on" \
        -append "console=ttyAMA0 quiet loglevel=4 panic=-1 random.trust_cpu=on nokaslr kpti=off mitigations=off bench.part=$part bench.now=$(date +%s)" \
        -display none -monitor none -serial "file:$log" -no-reboot -nic none </dev/null &
    qemu=$!
    trap 'kill -KILL $qemu 2>/dev/null || true' EXIT
    while kill -0 "$qemu" 2>/dev/null; do
        shown=$(verdicts_since "$shown" "$log")
        if [ $((SECONDS - started)) -gt "$limit_s" ]; then
            kill -KILL "$qemu"
            echo "part '$part' was not done $limit_s s after the start of it all" >>"$TARGET/trouble"
        fi
        sleep 0.5
    done
    wait "$qemu" 2>/dev/null || true
    trap - EXIT
    verdicts_since "$shown" "$log" >/dev/null
    if ! grep -aqF "BENCH: the end of part $part" "$log"; then
        tail -n 40 "$log" >&2
        echo "part '$part' did not reach its end; the whole console is in $log" >>"$TARGET/trouble"
    fi
}

# verdicts_since LINE LOG: shows what came to the console since that line, and prints the number of the last.
verdicts_since() {
    local last
    last=$(wc -l <"$2")
    [ "$last" -eq "$1" ] || sed -n "$(($1 + 1)),${last}p" "$2" | grep -aE '^(BENCH|ok|FAILED)' >&2 || true
    echo "$last"
}

# One line for a person and for a program; the exit code says whether all passed.
summary() {
    local total failed trouble
    [ -s "$TARGET/trouble" ] && boots "$1"
    total=$(cat "$1"/*.xml 2>/dev/null | grep -c '<testcase ' || true)
    failed=$(cat "$1"/*.xml 2>/dev/null | grep -c '<failure' || true)
    cat "$1"/*.xml 2>/dev/null | grep -B1 '<failure' | sed -n 's/.* name="\([^"]*\)".*/virtual bench: FAILED \1/p' >&2 || true
    echo "virtual bench: JUnit XML in $1, $((SECONDS - started)) s"
    echo "$((total - failed)) passed, $failed failed"
    [ "$total" -gt 0 ] && [ "$failed" -eq 0 ]
}

# A board that did not come to its end is a failure of its own: the scenarios after it are missing.
boots() {
    local line
    {
        echo "<testsuite name=\"board\" tests=\"$(wc -l <"$TARGET/trouble")\" failures=\"$(wc -l <"$TARGET/trouble")\">"
        while read -r line; do
            echo "  <testcase classname=\"board\" name=\"$line\">"
            echo "    <failure>$line</failure>"
            echo "  </testcase>"
        done <"$TARGET/trouble"
        echo "</testsuite>"
    } >"$1/TEST-virtual-bench-trouble.xml"
}
