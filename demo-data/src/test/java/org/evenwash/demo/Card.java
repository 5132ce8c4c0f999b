package org.evenwash.demo;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A memory card in an image file, with the file system that a Pi has on its own. When it fails, Linux makes it read-only
 * under the programs that write there, and what was not synced by then is lost; no other kind of disk can be made to do
 * that. It is of use again after a check, as at the start of a machine.
 */
final class Card extends Disk {
    /** The logger's own broker refuses everything when less than 64 MB are free. */
    private static final long SIZE_B = 512 << 20;

    private static final long LAST_B = 1 << 20;
    private static final int FOUND_AND_MENDED = 1;
    private static final Path LOOPS = Path.of("/sys/block");
    private static final Path FILE_SYSTEMS = Path.of("/sys/fs/ext4");

    private final Path image;

    private Card(Path folder, Path image) {
        super(folder);
        this.image = image;
    }

    static Card over(Path folder) throws IOException {
        Files.createDirectories(folder);
        Path image =
                Files.createTempFile(
                        folder.toAbsolutePath().getParent(),
                        NAME + ProcessHandle.current().pid() + "-",
                        ".img");
        try (RandomAccessFile bytes = new RandomAccessFile(image.toFile(), "rw")) {
            bytes.setLength(SIZE_B);
        }
        must(List.of("mkfs.ext4", "-q", "-m", "0", image.toString()));
        Card card = new Card(folder, image);
        card.insert();
        Files.delete(folder.resolve("lost+found"));
        return card;
    }

    /** Whether this machine has image files mounted and lets them fail; few containers do. */
    static boolean possible() {
        try {
            Path folder = Files.createTempDirectory("card");
            Path mounted = Files.createDirectory(folder.resolve("mounted"));
            try (Card card = over(mounted)) {
                return Files.isWritable(card.failure());
            } catch (AssertionError | IOException refused) {
                return false;
            } finally {
                try (Stream<Path> all = Files.walk(folder)) {
                    for (Path left : all.sorted(Comparator.reverseOrder()).toList()) {
                        Files.delete(left);
                    }
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot try out a card", e);
        }
    }

    /** The file behind a loop device, when it is one. */
    static Optional<String> image(String device) {
        Path file = LOOPS.resolve(Path.of(device).getFileName()).resolve("loop/backing_file");
        try {
            return Files.isReadable(file) ? Optional.of(Files.readString(file)) : Optional.empty();
        } catch (IOException gone) {
            return Optional.empty();
        }
    }

    private void insert() {
        mount("-o", "loop,errors=remount-ro", image.toString(), folder().toString());
    }

    /** The kernel's own door for trying this out. */
    private Path failure() throws IOException {
        String device = Files.getFileStore(folder()).name();
        return FILE_SYSTEMS.resolve(Path.of(device).getFileName()).resolve("trigger_fs_error");
    }

    /** From now on it is read-only, also for files that are open for writing. */
    void fail() {
        try {
            Files.writeString(failure(), "the card fails");
        } catch (IOException e) {
            throw new UncheckedIOException(folder() + " cannot be made to fail", e);
        }
        try {
            Files.createFile(folder().resolve("after-it-failed"));
            throw new AssertionError(folder() + " can be written after its card failed");
        } catch (IOException expected) {
            // So nobody else can write there either.
        }
    }

    /** Taken out, checked and put back; nobody may have a file open there. */
    void repair() {
        must(List.of("umount", folder().toString()));
        int found = run(List.of("e2fsck", "-f", "-y", image.toString()));
        if (found > FOUND_AND_MENDED) {
            throw new AssertionError("e2fsck " + image + " ended with " + found);
        }
        insert();
    }

    /** By a file that takes all that is left: what is only reserved writes nothing, the last of it is really written. */
    @Override
    void full() {
        String ballast = ballast().toString();
        try {
            long room_B = Files.getFileStore(folder()).getUsableSpace() - LAST_B;
            must(List.of("fallocate", "-l", String.valueOf(room_B), ballast));
        } catch (IOException e) {
            throw new UncheckedIOException("cannot see how much of " + folder() + " is used", e);
        }
        List<String> rest =
                List.of(
                        "dd",
                        "if=/dev/zero",
                        "of=" + ballast,
                        "bs=4K",
                        "oflag=append",
                        "conv=notrunc");
        if (run(rest) == 0) {
            throw new AssertionError(folder() + " cannot be filled");
        }
    }

    @Override
    void roomy() {
        mount("-o", "remount,rw", folder().toString());
        try {
            if (Files.deleteIfExists(ballast())) {
                // Otherwise a card that fails soon after forgets it, and is full again when it was
                // checked.
                must(List.of("sync", "--file-system", folder().toString()));
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot make room in " + folder(), e);
        }
    }

    private Path ballast() {
        return folder().resolve("ballast");
    }

    @Override
    public void close() {
        super.close();
        try {
            Files.delete(image);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot delete " + image, e);
        }
    }
}
