package org.evenwash.logger.file;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;

/**
 * Files that are there whole or not at all, at whatever moment the power fails or the program is killed,
 * and that no other user may read. Windows has no such permissions; its own rules hold there.
 */
public final class WholeFile {
    private static final String OWNERS = "rw-------";

    private WholeFile() {}

    /** Text for its owner in place of what was there. */
    public static void write(Path file, String text) throws IOException {
        write(file, text, OWNERS);
    }

    /**
     * As above.
     *
     * @param permissions of whoever else may read it, such as {@code rw-r--r--}; nobody may before
     *     it is whole
     */
    public static void write(Path file, String text, String permissions) throws IOException {
        write(file, text.getBytes(StandardCharsets.UTF_8), permissions);
    }

    /** As above, of bytes for their owner. */
    public static void write(Path file, byte[] bytes) throws IOException {
        write(file, bytes, OWNERS);
    }

    private static void write(Path file, byte[] bytes, String permissions) throws IOException {
        Path fresh = makeBeside(file, ".new");
        try {
            Files.write(fresh, bytes);
            if (isPosix(fresh)) {
                Files.setPosixFilePermissions(fresh, PosixFilePermissions.fromString(permissions));
            }
            putInPlace(fresh, file);
        } catch (IOException | RuntimeException e) {
            Files.deleteIfExists(fresh);
            throw e;
        }
    }

    /** Each that writes, also at the same time, has one of its own. */
    private static Path makeBeside(Path file, String end) throws IOException {
        Path folder = file.toAbsolutePath().getParent();
        return Files.createTempFile(folder, file.getFileName() + ".", end, owners(folder, OWNERS));
    }

    /** A folder that only its owner enters; one that is there already stays as it is. */
    public static void makeFolder(Path folder) throws IOException {
        Path whole = folder.toAbsolutePath();
        if (Files.isDirectory(whole)) {
            return;
        }
        if (whole.getParent() != null) {
            Files.createDirectories(whole.getParent());
        }
        Files.createDirectory(whole, owners(whole, "rwx------"));
    }

    /** An empty file for others to write into. */
    public static void makeEmpty(Path file) throws IOException {
        Files.createFile(file, owners(file, OWNERS));
    }

    /** What was written aside takes the place of {@code file}, whether there was one or not. */
    public static void putInPlace(Path fresh, Path file) throws IOException {
        force(fresh);
        Files.move(fresh, file, StandardCopyOption.ATOMIC_MOVE);
        forceFolderOf(file);
    }

    /** Written by whomever, it is on the disk now. */
    public static void force(Path file) throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            channel.force(true);
        }
    }

    /** The names in it are on the disk, too; Windows opens no folder, and sees to that by itself. */
    public static void forceFolderOf(Path file) throws IOException {
        if (!isPosix(file)) {
            return;
        }
        try (FileChannel channel = FileChannel.open(file.toAbsolutePath().getParent())) {
            channel.force(true);
        }
    }

    private static FileAttribute<?>[] owners(Path file, String permissions) {
        return isPosix(file)
                ? new FileAttribute<?>[] {
                    PosixFilePermissions.asFileAttribute(
                            PosixFilePermissions.fromString(permissions))
                }
                : new FileAttribute<?>[0];
    }

    private static boolean isPosix(Path file) {
        return file.getFileSystem().supportedFileAttributeViews().contains("posix");
    }
}
