package org.evenwash.controller.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.UserPrincipal;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;

/**
 * Puts an outbox aside, with all that SQLite keeps beside it, and another in its place. A kill may come between any two
 * renames, so the other one has a name of its own until the last of them: while a file of that name is there, whoever
 * opens the outbox goes on from here first. Until then nothing may be read: SQLite takes a file without its log
 * for the older outbox that it then is, and plays a log that was left into whatever file stands there next.
 */
final class Replacement {
    /** The file and what SQLite keeps beside it: none of them is anything without the others. */
    static final List<String> SUFFIXES = List.of("", "-wal", "-shm", "-journal");

    private final Path file;
    private final Runnable beforeEach;

    Replacement(Path file) {
        this(file, () -> {});
    }

    /** With something that runs before each change of a name, so that a test can see what a kill leaves. */
    Replacement(Path file, Runnable beforeEach) {
        this.file = file;
        this.beforeEach = beforeEach;
    }

    static Path beside(Path file, String suffix) {
        return file.resolveSibling(file.getFileName() + suffix);
    }

    /** A name like this one that nothing has. */
    static Path unused(Path wanted) {
        Path found = wanted;
        for (int i = 2; Files.exists(found); i++) {
            found = beside(wanted, "." + i);
        }
        return found;
    }

    private Path incoming() {
        return beside(file, ".salvaged");
    }

    /** Undated, so that who goes on after a kill puts the rest into the same folder. */
    private Path outgoing() {
        return beside(file, ".putting-aside");
    }

    boolean isHalfDone() {
        return Files.exists(incoming());
    }

    /** Whether something lies about that belonged to a file. */
    boolean hasRemains() {
        return Files.exists(outgoing())
                || SUFFIXES.stream().anyMatch(suffix -> Files.exists(beside(file, suffix)));
    }

    /**
     * A whole file takes the place of the outbox.
     *
     * @return the folder in which the outbox lies now
     */
    Path by(Path whole) throws IOException {
        // Whoever runs this may be root; the controller, which may have to go on from here, is not.
        UserPrincipal owner = Files.getOwner(file.toAbsolutePath().getParent());
        Files.setOwner(Files.createDirectories(outgoing()), owner);
        Files.setOwner(whole, owner);
        rename(whole, incoming());
        Path aside = moveAway();
        rename(incoming(), file);
        return aside;
    }

    /** What a kill has interrupted comes to its end. */
    void finish() throws IOException {
        if (hasRemains()) {
            moveAway();
        }
        rename(incoming(), file);
    }

    /**
     * Moves the file and all that belongs to it into a dated folder beside it.
     *
     * @return the folder
     */
    Path moveAway() throws IOException {
        Files.createDirectories(outgoing());
        for (String suffix : SUFFIXES) {
            Path one = beside(file, suffix);
            if (Files.exists(one)) {
                beforeEach.run();
                Files.move(
                        one, outgoing().resolve(one.getFileName())); // over nothing that is there
            }
        }
        String now = Instant.now().truncatedTo(ChronoUnit.SECONDS).toString().replace(":", "");
        Path folder = unused(beside(file, ".put-aside-" + now));
        rename(outgoing(), folder);
        return folder;
    }

    private void rename(Path from, Path to) throws IOException {
        beforeEach.run();
        Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
    }
}
