package org.evenwash.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A small file system in memory, mounted over a folder, that can be full or read-only. Needs root. */
final class Disk implements AutoCloseable {
    private static final String ROOMY = "size=4g";
    private static final int PAGE_B = 4096;

    private final Path folder;

    private Disk(Path folder) {
        this.folder = folder;
        mount("-t", "tmpfs", "-o", ROOMY, "tmpfs", folder.toString());
    }

    static Disk over(Path folder) throws IOException {
        return new Disk(Files.createDirectories(folder));
    }

    /** Whether this user may mount; where not, scenarios do without faults of the disk. */
    static boolean possible() {
        try {
            Path folder = Files.createTempDirectory("disk");
            boolean mounts = run(List.of("mount", "-t", "tmpfs", "tmpfs", folder.toString())) == 0;
            boolean back = mounts && run(List.of("umount", folder.toString())) == 0;
            Files.delete(folder);
            return back;
        } catch (IOException e) {
            throw new UncheckedIOException("cannot try out a mount", e);
        }
    }

    /** Not a byte more than is in use now. */
    void full() {
        for (int tries = 0; tries < 50; tries++) {
            if (run(List.of("mount", "-o", "remount,size=" + used_B(), folder.toString())) == 0) {
                return;
            }
        }
        throw new AssertionError(folder + " grew faster than it could be filled");
    }

    private long used_B() {
        try {
            FileStore store = Files.getFileStore(folder);
            long used_B = store.getTotalSpace() - store.getUnallocatedSpace();
            return Math.max(PAGE_B, used_B);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot see how much of " + folder + " is used", e);
        }
    }

    /** Only while no program has a file open for writing on it. */
    void readOnly() {
        mount("-o", "remount,ro", folder.toString());
    }

    void roomy() {
        mount("-o", "remount,rw," + ROOMY, folder.toString());
    }

    private static void mount(String... arguments) {
        var command = new java.util.ArrayList<>(List.of("mount"));
        command.addAll(List.of(arguments));
        if (run(command) != 0) {
            throw new AssertionError("failed: " + String.join(" ", command));
        }
    }

    private static int run(List<String> command) {
        try {
            Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
            String said =
                    new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
            if (!process.waitFor(30, TimeUnit.SECONDS)) {
                process.destroyForcibly();
                throw new AssertionError(command + " does not end: " + said);
            }
            return process.exitValue();
        } catch (IOException e) {
            return -1; // the program is not there
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted during " + command, e);
        }
    }

    @Override
    public void close() {
        if (run(List.of("umount", folder.toString())) != 0) {
            run(List.of("umount", "--lazy", folder.toString()));
        }
    }
}
