package org.evenwash.logger.transfer;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.evenwash.logger.store.ImportedRows;
import org.jdbi.v3.core.Handle;

/**
 * Which rows are washes that are kept already: imported before, from whatever file, or entered by hand
 * with the same colony, day, bees and mites. A row that stands twice in one file is two washes.
 */
final class KnownWashes {
    private static final char APART = '\u001F';

    private final Handle handle;
    private final Directory directory;
    private final long[] imported;

    /** Ids of all washes, folded; only looked up where a file names ids. */
    private long[] ids;

    private final Map<String, Integer> inThisFile = new HashMap<>();
    private final Map<UUID, Map<String, Integer>> ofColony = new HashMap<>();

    KnownWashes(Handle handle, Directory directory) {
        this.handle = handle;
        this.directory = directory;
        this.imported = ImportedRows.keys(handle);
    }

    /** A row's key, and whether its wash is here. */
    record Known(long key, boolean here) {}

    /**
     * @param colonyId null for a colony that is only just made
     */
    Known of(OldWash wash, UUID colonyId) {
        UUID id = wash.get(WashField.WASH_ID, UUID.class);
        if (id != null) {
            ids = ids == null ? ImportedRows.foldedIds(handle) : ids;
            boolean here = Arrays.binarySearch(ids, ImportedRows.folded(id)) >= 0;
            return new Known(ImportedRows.folded(id), here);
        }
        String alike = alike(wash.day(), wash.number(WashField.BEES), wash.whole(WashField.MITES));
        String text =
                String.join(
                        String.valueOf(APART),
                        directory.fold(wash.text(WashField.APIARY)),
                        directory.fold(wash.text(WashField.COLONY)),
                        alike);
        int time = inThisFile.merge(text, 1, Integer::sum);
        long key = hash(text + APART + time);
        boolean here =
                Arrays.binarySearch(imported, key) >= 0
                        || (colonyId != null && washesOf(colonyId).getOrDefault(alike, 0) >= time);
        return new Known(key, here);
    }

    private Map<String, Integer> washesOf(UUID colonyId) {
        return ofColony.computeIfAbsent(
                colonyId,
                id -> {
                    Map<String, Integer> washes = new HashMap<>();
                    List<ImportedRows.Alike> rows = ImportedRows.washesOf(handle, id);
                    rows.forEach(
                            one ->
                                    washes.merge(
                                            alike(one.sampledOn(), one.bees(), one.mites()),
                                            1,
                                            Integer::sum));
                    return washes;
                });
    }

    private static String alike(LocalDate day, Double bees, Integer mites) {
        return day + "" + APART + bees + APART + mites;
    }

    /** 64 bits: among a million washes, one row in ten million files is taken for another. */
    private static long hash(String text) {
        try {
            byte[] digest =
                    MessageDigest.getInstance("SHA-256")
                            .digest(text.getBytes(StandardCharsets.UTF_8));
            return ByteBuffer.wrap(digest).getLong();
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("SHA-256 belongs to every Java", e);
        }
    }
}
