# Builds the simulator modules for exactly the fetched kernel, on this machine, out of tree. Kept until the kernel or
# a source changes.
kernel_version=$(dpkg-deb -f "$(deb "linux-image-$kernel")" Version)
modules_key=$kernel-$kernel_version-$(cat "$BENCH"/kernel/* "$BENCH/steps/modules.sh" | sha256sum | cut -c 1-12)
modules_dir=$TARGET/modules/$modules_key

if [ ! -e "$modules_dir/bench-i2c.ko" ]; then
    build=$TARGET/modules/build
    rm -rf "$TARGET/modules" && mkdir -p "$build/headers" "$build/source" "$modules_dir"
    for package in "linux-headers-$kernel" "linux-headers-$kernel_abi-common" "linux-kbuild-$kernel_series" "linux-source-$kernel_series"; do
        dpkg-deb -x "$(deb "$package")" "$build/headers"
    done
    headers=$build/headers/usr/src/linux-headers-$kernel
    # The packaged Makefile includes its sibling by an absolute path; here both live below the build folder.
    sed -i "s#^include /usr/src/#include $build/headers/usr/src/#" "$headers/Makefile"

    tree=linux-source-$kernel_series
    tar -C "$build/source" --strip-components=1 -xf "$build/headers/usr/src/$tree.tar.xz" \
        "$tree/drivers/gpio/gpio-sim.c" "$tree/drivers/gpio/gpiolib.h" "$tree/kernel/irq/irq_sim.c"
    cp "$BENCH"/kernel/* "$build/source/drivers/gpio/gpiolib.h" "$build/source/kernel/irq/irq_sim.c" "$modules_dir/"
    cp "$build/source/drivers/gpio/gpio-sim.c" "$modules_dir/gpio-sim-main.c"
    # Inside the kernel irq_sim may use irq_to_desc; a module may not, and calls the exported equivalent.
    sed -i '/EXPORT_SYMBOL_GPL/d; s/handle_simple_irq(irq_to_desc(irqnum))/generic_handle_irq(irqnum)/' "$modules_dir/irq_sim.c"

    make -C "$headers" M="$modules_dir" ARCH=arm64 CROSS_COMPILE=aarch64-linux-gnu- \
        DEB_BUILD_ARCH="$host" DEB_HOST_ARCH=arm64 DEB_HOST_GNU_TYPE=aarch64-linux-gnu modules \
        >"$TARGET/modules.log" 2>&1 || { tail -n 30 "$TARGET/modules.log" >&2; fail "a kernel module did not build; see $TARGET/modules.log"; }
    rm -rf "$build"
fi
