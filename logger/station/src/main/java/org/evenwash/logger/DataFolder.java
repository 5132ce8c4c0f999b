package org.evenwash.logger;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.UUID;
import java.util.regex.Pattern;
import org.evenwash.logger.file.WholeFile;
import org.evenwash.logger.store.Backups;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The station's folder, held by one process at a time. */
public final class DataFolder implements AutoCloseable {
    private static final Pattern STATION_ID = Pattern.compile("evenwash-[A-Za-z0-9-]{1,64}");
    private static final Logger LOG = LoggerFactory.getLogger(DataFolder.class);

    private final Path folder;
    private final FileChannel channel;

    private DataFolder(Path folder, FileChannel channel) {
        this.folder = folder;
        this.channel = channel;
    }

    /** The database file of a folder. */
    public static Path database(Path folder) {
        return folder.resolve("evenwash.db");
    }

    /**
     * Before a database is made in a folder that has none.
     *
     * @throws StationTrouble where a restore was interrupted: an empty one would hide that
     */
    public static void refuseHalfRestored(Path folder) {
        if (Backups.isHalfRestored(database(folder))) {
            throw new StationTrouble(
                    "a restore into "
                            + folder
                            + " was interrupted before there was a database; do it again with"
                            + " 'evenwash-logger restore', or delete evenwash.db.incoming there to"
                            + " begin with an empty one",
                    null);
        }
    }

    /**
     * Makes the folder if need be and takes it for this process.
     *
     * @throws StationTrouble if another process has it, or it cannot be written
     */
    public static DataFolder take(Path folder) {
        FileChannel channel = null;
        try {
            WholeFile.makeFolder(folder);
            channel =
                    FileChannel.open(
                            folder.resolve("in-use.lock"),
                            StandardOpenOption.CREATE,
                            StandardOpenOption.WRITE);
            FileLock lock = channel.tryLock();
            if (lock == null) {
                channel.close();
                throw inUse(folder);
            }
            return new DataFolder(folder, channel);
        } catch (OverlappingFileLockException e) {
            close(channel);
            throw inUse(folder);
        } catch (IOException e) {
            throw new StationTrouble(
                    "the data folder "
                            + folder
                            + " cannot be used ("
                            + reason(e)
                            + "); choose another with --data, or let this user write to it",
                    e);
        }
    }

    /** In words: the file itself is named beside it already. */
    private static String reason(IOException e) {
        if (e instanceof AccessDeniedException) {
            return "no permission";
        }
        return e instanceof FileSystemException known && known.getReason() != null
                ? known.getReason()
                : String.valueOf(e.getMessage());
    }

    private static StationTrouble inUse(Path folder) {
        return new StationTrouble(
                "another logger is using the data folder "
                        + folder
                        + "; stop that one first, or choose another folder with --data",
                null);
    }

    private static void close(FileChannel channel) {
        try {
            if (channel != null) {
                channel.close();
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot let go of the data folder", e);
        }
    }

    public Path database() {
        return database(folder);
    }

    /** Where a keeper puts protocol and threshold files of their own. */
    public Path rules() {
        return folder.resolve("rules");
    }

    public Path broker() {
        return folder.resolve("broker");
    }

    /** Bytes that this user may still write there; 0 for a disk that cannot be asked. */
    long freeRoom_B() {
        try {
            return Files.getFileStore(folder).getUsableSpace();
        } catch (IOException e) {
            // No better than a full one, and for a person to look at as well.
            return 0;
        }
    }

    /** Made once: the broker keeps under it what comes while the station is away. */
    String stationId() {
        Path file = folder.resolve("station-id");
        try {
            String known = Files.exists(file) ? Files.readString(file).strip() : null;
            if (known != null && STATION_ID.matcher(known).matches()) {
                return known;
            }
            String id = "evenwash-" + UUID.randomUUID();
            if (known != null) {
                // An empty one would be no client of any broker, at every start anew.
                LOG.warn("{} holds no id of a logger; the logger is {} from now on", file, id);
            }
            WholeFile.write(file, id);
            return id;
        } catch (IOException e) {
            throw new StationTrouble("cannot read or write " + file + ": " + reason(e), e);
        }
    }

    @Override
    public void close() {
        close(channel);
    }
}
