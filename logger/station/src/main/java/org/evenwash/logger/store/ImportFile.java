package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * A file of old records, and how far it has come.
 *
 * @param sha256 of its bytes, 64 hexadecimal digits
 * @param planJson how its columns are read, null until chosen
 * @param outcomeJson of the last dry run or of the import, null before
 */
public record ImportFile(
        UUID id,
        String name,
        String sha256,
        long size_bytes,
        Standing standing,
        String planJson,
        String outcomeJson,
        Instant uploadedAt,
        Instant importedAt,
        UUID importedBy,
        Instant undoneAt,
        UUID undoneBy,
        String undoneWhy) {

    public enum Standing {
        /** It is here; nothing was read from it yet. */
        UPLOADED,
        /** A dry run told what an import would do. */
        CHECKED,
        IMPORTED,
        /** Its washes were taken out again. */
        UNDONE
    }
}
