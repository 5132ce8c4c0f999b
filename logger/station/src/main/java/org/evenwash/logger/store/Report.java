package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

/**
 * A report that was handed out, without its content.
 *
 * @param number counts the reports of this database from 1
 * @param subjectId the wash, colony, apiary or calibration
 * @param onDay the day of an apiary's report, null for the other kinds
 * @param language of its words, such as {@code en}
 * @param methodVersion of the program that worked the results out
 * @param protocolEdition name and edition, null where no protocol was asked
 * @param thresholdEdition id and edition, null where no threshold was chosen
 * @param supersededAt null while everything it rests on stands as it was
 * @param supersededWhy what changed, in words
 */
public record Report(
        UUID id,
        long number,
        Kind kind,
        UUID subjectId,
        LocalDate onDay,
        String title,
        String language,
        String methodVersion,
        String protocolEdition,
        String thresholdEdition,
        Instant madeAt,
        UUID madeBy,
        Instant supersededAt,
        UUID supersededBy,
        String supersededWhy) {

    /** What a report is about. */
    public enum Kind {
        WASH,
        COLONY,
        APIARY_DAY,
        CALIBRATION
    }

    /** The two files of each report. */
    public enum Format {
        HTML("text/html; charset=utf-8", "html"),
        PDF("application/pdf", "pdf");

        private final String mediaType;
        private final String ending;

        Format(String mediaType, String ending) {
            this.mediaType = mediaType;
            this.ending = ending;
        }

        public String mediaType() {
            return mediaType;
        }

        /** Of the file's name. */
        public String ending() {
            return ending;
        }
    }

    public boolean superseded() {
        return supersededAt != null;
    }
}
