package org.evenwash.logger.transfer;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;

/**
 * What leaves in an export, table by table. A table or column that is not named here stays: a new one
 * is never let out unseen.
 */
final class ExportTables {
    /** One row a wash, with names in place of ids; this one can be imported again. */
    static final String WASHES = "washes";

    /** Files of their own in the ZIP: a spreadsheet cannot hold them. */
    static final Map<String, String> FILES =
            Map.of(
                    "photo", "SELECT id, media_type, bytes FROM photo",
                    "import_file", "SELECT id, name, packed FROM import_file",
                    "report_file",
                            """
                            SELECT report.number, report_file.format, report_file.bytes
                            FROM report_file JOIN report ON report.id = report_file.report_id""");

    private static final String MEANINGS = "/transfer/columns.properties";

    private static final String WASHES_SQL =
            """
            SELECT wash.sampled_on AS date, apiary.name AS apiary, colony.name AS colony,
                operator.name AS operator, wash.frame, wash.queen_check, wash.bees,
                wash.bee_measure, wash.bees_log_sd, wash.sample_mass_g,
                bee_counter.name AS bees_counted_by,
                first_count.mites, counter.name AS counted_by,
                recount.mites AS recount_mites, recounter.name AS recounted_by,
                recount.blind AS recount_blind,
                second_count.mites AS second_mites, second_counter.name AS second_counted_by,
                blank_count.mites AS blank_mites, blank_counter.name AS blank_counted_by,
                first_pass.hand_agitation_s,
                (SELECT SUM(cycle.agitation_s) FROM pass_cycle
                    JOIN cycle ON cycle.id = pass_cycle.cycle_id
                    WHERE pass_cycle.pass_id = first_pass.id) AS bench_agitation_s,
                spirit_batch.name AS spirit, wash.rinses, wash.frames, wash.liquid_ml,
                wash.bees_covered, wash.bee_sieve_mm, wash.mite_sieve_mm, wash.jar_walls_checked,
                wash.times_washed, wash.remarks, wash.simulated,
                wash.id AS wash_id
            FROM wash
            JOIN colony ON colony.id = wash.colony_id
            JOIN apiary ON apiary.id = wash.apiary_id
            LEFT JOIN operator ON operator.id = wash.operator_id
            LEFT JOIN operator bee_counter ON bee_counter.id = wash.bees_counted_by
            LEFT JOIN pass first_pass ON first_pass.wash_id = wash.id AND first_pass.kind = 'FIRST'
            LEFT JOIN pass second_pass ON second_pass.wash_id = wash.id
                AND second_pass.kind = 'SECOND'
            LEFT JOIN pass blank_pass ON blank_pass.wash_id = wash.id AND blank_pass.kind = 'BLANK'
            LEFT JOIN mite_count first_count ON first_count.pass_id = first_pass.id
                AND NOT first_count.recount
            LEFT JOIN mite_count second_count ON second_count.pass_id = second_pass.id
                AND NOT second_count.recount
            LEFT JOIN mite_count blank_count ON blank_count.pass_id = blank_pass.id
                AND NOT blank_count.recount
            LEFT JOIN mite_count recount ON recount.id = (SELECT again.id FROM mite_count again
                WHERE again.pass_id = first_pass.id AND again.recount
                ORDER BY again.counted_at, again.id LIMIT 1)
            LEFT JOIN operator counter ON counter.id = first_count.counted_by
            LEFT JOIN operator recounter ON recounter.id = recount.counted_by
            LEFT JOIN operator second_counter ON second_counter.id = second_count.counted_by
            LEFT JOIN operator blank_counter ON blank_counter.id = blank_count.counted_by
            LEFT JOIN spirit_batch ON spirit_batch.id = first_pass.spirit_batch_id
            WHERE wash.removed_at IS NULL
            ORDER BY wash.sampled_on, wash.planned_at, wash.id""";

    /** Tables that stay, and why. */
    static final Map<String, String> STAYING =
            Map.of(
                    "idempotency_key", "only keeps requests from being done twice",
                    "database_fact", "belongs to this database, not to its data",
                    "account", "who may sign in here; the persons themselves leave as operators",
                    "api_token", "lets a program in here, and nowhere else",
                    "web_session", "who is signed in at the moment");

    /** Columns that stay: a password's hash helps nobody who leaves. */
    private static final Map<String, List<String>> WITHOUT =
            Map.of(
                    "bench", List.of("password_hash"),
                    "photo", List.of("bytes"),
                    "import_file", List.of("packed"),
                    "report_file", List.of("bytes"));

    /** By name; a table's columns are those of its meanings. */
    static Map<String, String> queries() {
        Map<String, String> queries = new LinkedHashMap<>();
        queries.put(WASHES, WASHES_SQL);
        Map<String, Map<String, String>> meanings = meanings();
        meanings.forEach(
                (table, columns) -> {
                    if (!table.equals(WASHES)) {
                        List<String> left = WITHOUT.getOrDefault(table, List.of());
                        List<String> named =
                                columns.keySet().stream()
                                        .filter(column -> !left.contains(column))
                                        .toList();
                        queries.put(table, "SELECT " + String.join(", ", named) + " FROM " + table);
                    }
                });
        return queries;
    }

    /** Table by table what each column means; a line of the file for each, in its order. */
    static Map<String, Map<String, String>> meanings() {
        InOrder lines = new InOrder();
        try (var reader =
                new InputStreamReader(
                        ExportTables.class.getResourceAsStream(MEANINGS), StandardCharsets.UTF_8)) {
            lines.load(reader);
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + MEANINGS, e);
        }
        return lines.tables;
    }

    /** Properties forget the order of their lines. */
    private static final class InOrder extends Properties {
        private static final long serialVersionUID = 1L;

        private final transient Map<String, Map<String, String>> tables = new LinkedHashMap<>();

        @Override
        public synchronized Object put(Object key, Object value) {
            String[] parts = key.toString().split("\\.", 2);
            tables.computeIfAbsent(parts[0], table -> new LinkedHashMap<>())
                    .put(parts[1], value.toString());
            return super.put(key, value);
        }
    }

    private ExportTables() {}
}
