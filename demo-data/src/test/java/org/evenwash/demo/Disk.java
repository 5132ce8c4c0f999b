package org.evenwash.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.LongPredicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A small file system in memory, mounted over a folder, that can be full or read-only. Needs root. Its name in the list of
 * mounts holds the id of this process: one that a killed run has left is known by it, and goes at the next start.
 */
class Disk implements AutoCloseable {
    private static final String ROOMY = "size=4g";
    private static final int PAGE_B = 4096;
    static final String NAME = "evenwash-test-disk-";
    private static final Path MOUNTS = Path.of("/proc/mounts");
    private static final Pattern OURS = Pattern.compile(NAME + "(\\d+)");

    private final Path folder;

    Disk(Path folder) {
        this.folder = folder;
    }

    static Disk over(Path folder) throws IOException {
        Disk disk = new Disk(Files.createDirectories(folder));
        mount("-t", "tmpfs", "-o", ROOMY, NAME + ProcessHandle.current().pid(), folder.toString());
        return disk;
    }

    Path folder() {
        return folder;
    }

    /** Whether this user may mount; where not, scenarios do without faults of the disk. */
    static boolean possible() {
        removeLeftOvers(Disk::isDead);
        // Also when the run is broken off: what is left then are disks of this process.
        Runtime.getRuntime()
                .addShutdownHook(
                        new Thread(
                                () -> removeLeftOvers(pid -> pid == ProcessHandle.current().pid()),
                                "unmount"));
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

    private static boolean isDead(long pid) {
        return ProcessHandle.of(pid).filter(ProcessHandle::isAlive).isEmpty();
    }

    private static void removeLeftOvers(LongPredicate ofProcess) {
        if (!Files.isReadable(MOUNTS)) {
            return; // no Linux, and no disks of ours
        }
        for (Path folder : mounted(ofProcess)) {
            unmount(folder);
        }
    }

    /** Folders over which such processes have mounted a disk of ours. */
    static List<Path> mounted(LongPredicate ofProcess) {
        try {
            List<Path> folders = new ArrayList<>();
            for (String line : Files.readAllLines(MOUNTS)) {
                String[] mount = line.split(" ");
                Matcher ours = OURS.matcher(Card.image(mount[0]).orElse(mount[0]));
                if (ours.find() && ofProcess.test(Long.parseLong(ours.group(1)))) {
                    // A space in a folder's name reads \040 there.
                    folders.add(Path.of(mount[1].replace("\\040", " ")));
                }
            }
            return folders;
        } catch (IOException e) {
            throw new UncheckedIOException("cannot see what is mounted", e);
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

    static void mount(String... arguments) {
        List<String> command = new ArrayList<>(List.of("mount"));
        command.addAll(List.of(arguments));
        must(command);
    }

    static void must(List<String> command) {
        if (run(command) != 0) {
            throw new AssertionError("failed: " + String.join(" ", command));
        }
    }

    static int run(List<String> command) {
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

    /** Where a program still holds a file, the folder is free at once and the rest when that ends. */
    private static void unmount(Path folder) {
        if (run(List.of("umount", folder.toString())) != 0
                && run(List.of("umount", "--lazy", folder.toString())) != 0) {
            throw new AssertionError(folder + " cannot be unmounted");
        }
    }

    @Override
    public void close() {
        unmount(folder);
    }
}
