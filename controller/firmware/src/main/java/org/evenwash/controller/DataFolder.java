package org.evenwash.controller;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.process.State;
import org.evenwash.controller.store.OutboxRefused;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The folder of one bench: held by one controller at a time, which leaves its state there for others to see. Whether the
 * holder lives is told by the kernel's lock, not by the file, so a state that a killed program left counts for nothing.
 */
final class DataFolder implements AutoCloseable {
    /** What {@link #look} answers when no controller holds the folder. */
    static final String NOBODY = "OFFLINE";

    /** What it answers while a controller has the folder and has not scanned yet. */
    static final String STARTING = "STARTING";

    private static final Logger LOG = LoggerFactory.getLogger(DataFolder.class);
    private static final String LOCK = "lock";
    private static final String STATE = "state";

    /** Whoever looks holds the lock for an instant; a controller that starts just then tries again. */
    private static final int TRIES = 10;

    private static final long BETWEEN_TRIES_ns = TimeUnit.MILLISECONDS.toNanos(50);

    private final Path folder;
    private final FileLock lock;

    private DataFolder(Path folder, FileLock lock) {
        this.folder = folder;
        this.lock = lock;
    }

    /**
     * Takes the folder: two controllers on one bench would fight over its pins and its sequence.
     *
     * @throws OutboxRefused when another controller has it, or it cannot be written; nothing was changed in it
     */
    static DataFolder take(Path folder) throws OutboxRefused {
        try {
            Files.createDirectories(folder);
            FileChannel channel =
                    FileChannel.open(
                            folder.resolve(LOCK),
                            StandardOpenOption.CREATE,
                            StandardOpenOption.WRITE);
            FileLock lock = null;
            for (int i = 0; i < TRIES && lock == null; i++) {
                if (i > 0) {
                    LockSupport.parkNanos(BETWEEN_TRIES_ns);
                }
                lock = channel.tryLock();
            }
            if (lock == null) {
                channel.close();
                throw inUse(folder);
            }
            Files.deleteIfExists(folder.resolve(STATE));
            return new DataFolder(folder, lock);
        } catch (OverlappingFileLockException e) {
            throw inUse(folder);
        } catch (IOException e) {
            throw new OutboxRefused(
                    folder,
                    "cannot be used as data folder (" + e.getMessage() + ")",
                    "Create it, or let the controller's user write to it",
                    e);
        }
    }

    private static OutboxRefused inUse(Path folder) {
        return new OutboxRefused(
                folder,
                "is in use by another controller",
                "Stop that one first, or name another data folder",
                null);
    }

    /** Leaves the state for others; never on the scan's thread. It is news, not evidence, so it is not synced. */
    void show(State state) {
        Path next = folder.resolve(STATE + ".new");
        try {
            Files.writeString(next, state.name());
            Files.move(next, folder.resolve(STATE), StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            LOG.warn("The state could not be left in {}: {}", folder, e.getMessage());
        }
    }

    /**
     * The state of the controller that holds a folder.
     *
     * @return a {@link State}'s name, {@link #STARTING} or {@link #NOBODY}
     * @throws IOException when the folder is there and this user may not look
     */
    static String look(Path folder) throws IOException {
        Path held = folder.resolve(LOCK);
        if (!Files.exists(held)) {
            return NOBODY;
        }
        try (FileChannel channel = FileChannel.open(held, StandardOpenOption.WRITE);
                FileLock free = channel.tryLock()) {
            if (free != null) {
                return NOBODY;
            }
        } catch (OverlappingFileLockException e) {
            // Held within this very program, as in tests.
        }
        Path state = folder.resolve(STATE);
        return Files.exists(state) ? Files.readString(state).strip() : STARTING;
    }

    @Override
    public void close() {
        try {
            lock.acquiredBy().close();
        } catch (IOException e) {
            LOG.warn("The lock of the data folder could not be given back: {}", e.getMessage());
        }
    }
}
