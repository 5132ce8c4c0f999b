package org.evenwash.controller.pi4j;

import com.pi4j.library.linuxfs.LinuxFile;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.IntBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** Asks the kernel itself: device tree for the name, the GPIO devices for label, size and the interface they speak. */
final class LinuxBoard implements Board {
    private static final Path DEVICES = Path.of("/dev");
    private static final Path MODEL = Path.of("/proc/device-tree/model");

    // From the kernel's <linux/gpio.h>: struct gpiochip_info {char name[32]; char label[32]; __u32
    // lines;} and
    // struct gpioline_info {__u32 line_offset; __u32 flags; char name[32]; char consumer[32];};
    // numbers by _IOR, _IOWR.
    private static final long GET_CHIP_INFO = 0x8044_B401L;
    private static final int CHIP_INFO_BYTES = 68;
    private static final long GET_LINE_INFO_VERSION_1 = 0xC048_B402L;
    private static final int LINE_INFO_BYTES = 72;
    private static final int TEXT_BYTES = 32;

    @Override
    public String architecture() {
        return System.getProperty("os.arch");
    }

    @Override
    public String model() {
        try {
            return Files.isReadable(MODEL) ? Files.readString(MODEL).replace("\0", "").trim() : "";
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + MODEL, e);
        }
    }

    @Override
    public List<Chip> chips() {
        return devices(LinuxBoard::openable).stream().map(LinuxBoard::ask).toList();
    }

    @Override
    public List<String> forbiddenChips() {
        return devices(device -> !openable(device)).stream().map(Path::toString).toList();
    }

    private static boolean openable(Path device) {
        return Files.isReadable(device) && Files.isWritable(device);
    }

    private static List<Path> devices(Predicate<Path> wanted) {
        try (Stream<Path> all = Files.list(DEVICES)) {
            return all.filter(file -> file.getFileName().toString().startsWith("gpiochip"))
                    .filter(wanted)
                    .sorted()
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot list " + DEVICES, e);
        }
    }

    private static Chip ask(Path device) {
        try (LinuxFile file = new LinuxFile(device.toString(), "rw")) {
            ByteBuffer info = buffer(CHIP_INFO_BYTES);
            file.ioctl(GET_CHIP_INFO, info, noPointers());
            byte[] label = new byte[TEXT_BYTES];
            info.get(TEXT_BYTES, label);
            return new Chip(
                    new String(label, StandardCharsets.UTF_8).replace("\0", ""),
                    info.getInt(2 * TEXT_BYTES),
                    answersInVersion1(file));
        } catch (IOException e) {
            throw new UncheckedIOException("cannot ask " + device + " what it is", e);
        }
    }

    /** A kernel without version 1 refuses its requests as invalid; there is no other way to ask. */
    private static boolean answersInVersion1(LinuxFile chip) {
        try {
            chip.ioctl(GET_LINE_INFO_VERSION_1, buffer(LINE_INFO_BYTES), noPointers());
            return true;
        } catch (IOException refused) {
            return false;
        }
    }

    private static ByteBuffer buffer(int bytes) {
        return ByteBuffer.allocateDirect(bytes).order(ByteOrder.nativeOrder());
    }

    private static IntBuffer noPointers() {
        return ByteBuffer.allocateDirect(0).order(ByteOrder.nativeOrder()).asIntBuffer();
    }
}
