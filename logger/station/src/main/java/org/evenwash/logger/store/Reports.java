package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.record.Messages;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code report}, {@code report_file} and {@code report_basis}. */
public final class Reports {
    private static final RowMapper<Report> ROW = ConstructorMapper.of(Report.class);
    private static final String COLUMNS =
            "id, number, kind, subject_id, on_day, title, language, method_version, protocol_edition,"
                    + " threshold_edition, made_at, made_by, superseded_at, superseded_by, superseded_why";

    private Reports() {}

    /**
     * A report with all that is kept with it.
     *
     * @param basis keys of what it rests on; see {@link #day} for an apiary's day
     */
    public record Content(
            String inputsJson,
            String resultJson,
            Map<Report.Format, byte[]> files,
            Collection<String> basis) {}

    /** What a report of an apiary's day rests on, beside its washes. */
    public static String day(UUID apiaryId, LocalDate day) {
        return apiaryId + "/" + day;
    }

    public static long nextNumber(Handle handle) {
        return handle.createQuery("SELECT COALESCE(MAX(number), 0) + 1 FROM report")
                .mapTo(Long.class)
                .one();
    }

    /** False when the number is taken: look for the next one. */
    public static boolean insert(Handle handle, Report report, Content content) {
        int rows =
                handle.createUpdate(
                                """
                        INSERT INTO report (id, number, kind, subject_id, on_day, title, language,
                            inputs_json, result_json, method_version, protocol_edition,
                            threshold_edition, made_at, made_by)
                        VALUES (:id, :number, :kind, :subjectId, :onDay, :title, :language,
                            :inputs, :result, :methodVersion, :protocolEdition,
                            :thresholdEdition, :madeAt, :madeBy)
                        ON CONFLICT (number) DO NOTHING""")
                        .bindMethods(report)
                        .bind("inputs", content.inputsJson())
                        .bind("result", content.resultJson())
                        .execute();
        if (rows == 0) {
            return false;
        }
        content.files()
                .forEach(
                        (format, bytes) ->
                                handle.createUpdate(
                                                """
                                                INSERT INTO report_file (report_id, format, bytes, sha256)
                                                VALUES (:id, :format, :bytes, :sha256)""")
                                        .bind("id", report.id())
                                        .bind("format", format)
                                        .bind("bytes", bytes)
                                        .bind("sha256", Messages.sha256(bytes))
                                        .execute());
        for (String one : content.basis()) {
            handle.createUpdate("INSERT INTO report_basis (report_id, basis) VALUES (:id, :basis)")
                    .bind("id", report.id())
                    .bind("basis", one)
                    .execute();
        }
        return true;
    }

    public static Optional<Report> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT " + COLUMNS + " FROM report WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static Optional<Report> numbered(Handle handle, long number) {
        return handle.createQuery("SELECT " + COLUMNS + " FROM report WHERE number = :number")
                .bind("number", number)
                .map(ROW)
                .findOne();
    }

    /** All of one subject, newest first. */
    public static List<Report> of(
            Handle handle, Report.Kind kind, UUID subjectId, LocalDate onDay) {
        return handle.createQuery(
                        "SELECT "
                                + COLUMNS
                                + " FROM report WHERE kind = :kind AND subject_id = :subject"
                                + " AND COALESCE(on_day, '') = :day ORDER BY number DESC")
                .bind("kind", kind)
                .bind("subject", subjectId)
                .bind("day", onDay == null ? "" : onDay.toString())
                .map(ROW)
                .list();
    }

    /** Newest first. */
    public static Listing<Report> list(Handle handle, Page page) {
        long total = handle.createQuery("SELECT COUNT(*) FROM report").mapTo(Long.class).one();
        List<Report> rows =
                handle.createQuery(
                                "SELECT "
                                        + COLUMNS
                                        + " FROM report ORDER BY number DESC LIMIT :limit OFFSET :offset")
                        .bind("limit", page.size())
                        .bind("offset", page.offset())
                        .map(ROW)
                        .list();
        return new Listing<>(rows, total, page);
    }

    /** What it was made of, as JSON. */
    public static String inputs(Handle handle, UUID id) {
        return text(handle, id, "inputs_json");
    }

    /** What it says, as JSON. */
    public static String result(Handle handle, UUID id) {
        return text(handle, id, "result_json");
    }

    private static String text(Handle handle, UUID id, String column) {
        return handle.createQuery("SELECT " + column + " FROM report WHERE id = :id")
                .bind("id", id)
                .mapTo(String.class)
                .one();
    }

    /** The bytes that were handed out. */
    public static byte[] file(Handle handle, UUID id, Report.Format format) {
        return handle.createQuery(
                        "SELECT bytes FROM report_file WHERE report_id = :id AND format = :format")
                .bind("id", id)
                .bind("format", format)
                .map((row, context) -> row.getBytes("bytes"))
                .one();
    }

    /**
     * Marks what was handed out about something as overtaken; its content stays as it was, and so does
     * an earlier mark: the first change is what made it wrong.
     *
     * @param basis id of what changed, or {@link #day}
     * @param by null when nobody is known
     */
    public static int supersede(Handle handle, String basis, String why, UUID by, Instant at) {
        return handle.createUpdate(
                        """
                        UPDATE report SET superseded_at = :at, superseded_by = :by, superseded_why = :why
                        WHERE superseded_at IS NULL
                            AND id IN (SELECT report_id FROM report_basis WHERE basis = :basis)""")
                .bind("at", at)
                .bind("by", by)
                .bind("why", why)
                .bind("basis", basis)
                .execute();
    }
}
