# Lays out what the board boots: kernel, a small initramfs, a read-only system disk with Java, one with the shipped jar,
# fresh ones for data and verdicts, and a device tree that calls the board a Raspberry Pi (Pi4J looks at the name).
PATH=$PATH:/usr/sbin

kernel_dir=$TARGET/kernel-$modules_key
if [ ! -e "$kernel_dir/done" ]; then
    rm -rf "$TARGET"/kernel-* && mkdir -p "$kernel_dir"
    dpkg-deb -x "$(deb "linux-image-$kernel")" "$kernel_dir"
    mkdir -p "$kernel_dir/lib/modules/$kernel/updates"
    cp "$modules_dir"/*.ko "$kernel_dir/lib/modules/$kernel/updates/"
    depmod -b "$kernel_dir" "$kernel"
    touch "$kernel_dir/done"
fi
cp "$kernel_dir/boot/vmlinuz-$kernel" "$TARGET/vmlinuz"

initramfs=$TARGET/initramfs
rm -rf "$initramfs" && mkdir -p "$initramfs"/{bin,dev,proc,sys,newroot,lib}
dpkg-deb --fsys-tarfile "$(deb busybox-static)" | tar -xO ./bin/busybox >"$initramfs/bin/busybox"
chmod +x "$initramfs/bin/busybox"
cp "$BENCH/guest/init" "$initramfs/init" && chmod +x "$initramfs/init"
# Each module after those it needs, in the order in which init inserts them.
: >"$initramfs/lib/modules.order"
for module in virtio_pci virtio_blk ext4 configfs i2c-dev gpio-sim bench-pwm bench-i2c; do
    modprobe -d "$kernel_dir" -S "$kernel" --show-depends "$module" | sed -n 's/^insmod \([^ ]*\).*/\1/p' |
        while read -r file; do
            grep -qxF "$(basename "$file")" "$initramfs/lib/modules.order" && continue
            cp "$file" "$initramfs/lib/"
            basename "$file" >>"$initramfs/lib/modules.order"
        done
done
(cd "$initramfs" && find . | cpio -o -H newc --quiet) >"$TARGET/initramfs.cpio"

# The system disk changes with its packages only, and is kept as long.
system_key=$(for package in "${board_packages[@]}"; do basename "$(deb "$package")"; done | cat - "$BENCH/steps/image.sh" | sha256sum | cut -c 1-12)
system_image=$TARGET/system-$system_key.img
if [ ! -e "$system_image" ]; then
    system=$TARGET/system
    rm -rf "$system" "$TARGET"/system*.img && mkdir -p "$system"/{bench,data,results,dev,proc,sys,tmp,run,etc,bin,root}
    for package in "${board_packages[@]}"; do
        [ "$package" = busybox-static ] || dpkg-deb -x "$(deb "$package")" "$system"
    done
    cp "$initramfs/bin/busybox" "$system/bin/"
    rm -rf "$system/usr/share/doc" "$system/usr/share/man" "$system/usr/lib/aarch64-linux-gnu/gconv"
    [ -e "$system/lib" ] || ln -s usr/lib "$system/lib"
    mke2fs -q -F -t ext4 -O ^has_journal -d "$system" "$system_image.new" 384M >/dev/null
    mv "$system_image.new" "$system_image"
    rm -rf "$system"
fi

program=$TARGET/program
rm -rf "$program" && mkdir -p "$program"
cp "$FIRMWARE/target/evenwash-controller.jar" "$BENCH/guest/start" "$program/"
cp -r "$FIRMWARE/target/test-classes" "$program/"
# The installed program's own Java flags; only the class archive stays out, since it belongs to one installation.
grep -o -- ' -X[^ ]*' "$FIRMWARE/src/deb/evenwash-controller.sh" | tr -d ' ' | grep -vE 'SharedArchiveFile|-Xshare|-Xlog' >"$program/flags"
rm -f "$TARGET"/{program,data,results}.img
mke2fs -q -F -t ext4 -O ^has_journal -d "$program" "$TARGET/program.img" 48M >/dev/null
mke2fs -q -F -t ext4 "$TARGET/data.img" 96M >/dev/null
mke2fs -q -F -t ext4 -O ^has_journal "$TARGET/results.img" 4M >/dev/null
rm -rf "$program"

qemu-system-aarch64 -M "virt,dumpdtb=$TARGET/board.dtb" -cpu cortex-a72 -smp 1 -m 1024 -display none -nic none >"$TARGET/dtb.log" 2>&1 ||
    fail "no device tree from qemu; see $TARGET/dtb.log"
fdtput -t s "$TARGET/board.dtb" / model "Raspberry Pi 4 Model B Rev 1.5"
