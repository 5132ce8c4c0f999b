# Fetches the board's packages with an apt state of its own: this machine's architectures and package lists stay as
# they are. The kernel is whatever linux-image-arm64 points to today, so nothing here names its number.
suite=bookworm # the last Debian release whose default Java is 17

apt_dir=$TARGET/apt
mkdir -p "$apt_dir/state/lists/partial" "$apt_dir/cache/archives/partial" "$TARGET/debs"

# The mirrors this machine uses already; another one by VIRTUAL_BENCH_MIRROR and VIRTUAL_BENCH_SECURITY_MIRROR.
uris=$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' | sort -u)
mirror=${VIRTUAL_BENCH_MIRROR:-$(grep -E '/debian/?$' <<<"$uris" | head -n 1)}
security=${VIRTUAL_BENCH_SECURITY_MIRROR:-$(grep -E '/debian-security/?$' <<<"$uris" | head -n 1)}
[ -n "$mirror" ] && [ -n "$security" ] ||
    fail "no Debian mirror in this machine's apt sources; set VIRTUAL_BENCH_MIRROR and VIRTUAL_BENCH_SECURITY_MIRROR to one"
keyring=/usr/share/keyrings/debian-archive-keyring.gpg
need_file "$keyring" "apt-get install debian-archive-keyring"

host=$(dpkg --print-architecture)
cat >"$apt_dir/sources.list" <<LIST
deb [arch=arm64,$host signed-by=$keyring] $mirror $suite main
deb [arch=arm64,$host signed-by=$keyring] $security $suite-security main
LIST
cat >"$apt_dir/apt.conf" <<CONF
Dir::State "$apt_dir/state";
Dir::State::status "/dev/null";
Dir::Cache "$apt_dir/cache";
Dir::Etc::SourceList "$apt_dir/sources.list";
Dir::Etc::SourceParts "/dev/null";
APT::Architecture "arm64";
APT::Architectures { "arm64"; "$host"; };
APT::Sandbox::User "root";
Acquire::Languages "none";
Acquire::Retries "3";
CONF

board_apt() { (cd "$TARGET/debs" && APT_CONFIG=$apt_dir/apt.conf "$@"); }

# Lists of the last twelve hours serve as they are; without a network older ones do, if they are whole.
if [ -z "$(find "$TARGET/apt-update.done" -mmin -720 2>/dev/null)" ]; then
    if board_apt apt-get update -q >"$TARGET/apt-update.log" 2>&1; then
        touch "$TARGET/apt-update.done"
    else
        echo "         the package lists could not be refreshed (see $TARGET/apt-update.log); going on with the last ones"
    fi
fi

# "Depends: linux-image-6.1.0-56-arm64" -> 6.1.0-56-arm64
depends_of() {
    board_apt apt-cache depends "$1" 2>/dev/null | sed -n "s/.*Depends: $2\(.*\)/\1/p" | head -n 1
}
# Nothing is asked again while the lists are those of the last fetch.
if [ "$TARGET/fetched" -nt "$TARGET/apt-update.done" ]; then
    kernel=$(cat "$TARGET/fetched")
else
    kernel=$(depends_of linux-image-arm64 linux-image-)
fi
[ -n "$kernel" ] || fail "no kernel candidate for arm64 in $suite: is the mirror reachable? See $TARGET/apt-update.log"
kernel_abi=${kernel%-arm64}
kernel_series=$(cut -d. -f1,2 <<<"$kernel")

board_packages=(busybox-static openjdk-17-jre-headless libc6 libgcc-s1 libstdc++6 zlib1g)
kernel_packages=("linux-image-$kernel" "linux-headers-$kernel" "linux-headers-$kernel_abi-common"
    "linux-kbuild-$kernel_series:$host" "linux-source-$kernel_series")

# apt keeps what is already there and right; what a newer candidate replaced is swept away.
if [ ! "$TARGET/fetched" -nt "$TARGET/apt-update.done" ]; then
    board_apt apt-get download "${board_packages[@]}" "${kernel_packages[@]}" >"$TARGET/apt-download.log" 2>&1 ||
        fail "a package could not be fetched; see $TARGET/apt-download.log"
    echo "$kernel" >"$TARGET/fetched"
fi

# deb NAME: the newest file of that package.
deb() {
    local found
    found=$(ls -t "$TARGET/debs/$1"_*.deb 2>/dev/null | head -n 1)
    [ -n "$found" ] || fail "package $1 is not in $TARGET/debs"
    echo "$found"
}
