package org.evenwash.logger.web;

import java.util.Locale;
import java.util.function.LongSupplier;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.SetAsides;
import org.evenwash.logger.tls.Identity;
import org.evenwash.record.BenchState;

/**
 * Figures for a monitoring program, in the text format of Prometheus (version 0.0.4). A few lines of our
 * own: a library for them would be larger than the logger's whole web part.
 */
final class Figures {
    static final String TYPE = "text/plain; version=0.0.4; charset=utf-8";

    private final Database database;
    private final BenchBoard board;
    private final Health health;
    private final LongSupplier committed;
    private final LongSupplier freeRoom_B;
    private final Renewal renewal;
    private final Latencies latencies;

    /**
     * @param committed messages taken in since the start
     * @param freeRoom_B what the disk beside the data still takes
     */
    Figures(
            Database database,
            BenchBoard board,
            Health health,
            LongSupplier committed,
            LongSupplier freeRoom_B,
            Renewal renewal,
            Latencies latencies) {
        this.database = database;
        this.board = board;
        this.health = health;
        this.committed = committed;
        this.freeRoom_B = freeRoom_B;
        this.renewal = renewal;
        this.latencies = latencies;
    }

    String text() {
        StringBuilder out = new StringBuilder();
        one(out, "evenwash_up", "gauge", "1 if database and broker answer", health.up() ? 1 : 0);
        one(
                out,
                "evenwash_intake_messages_total",
                "counter",
                "Records and events committed since the start",
                committed.getAsLong());
        one(
                out,
                "evenwash_cycles",
                "gauge",
                "Cycle records in the database",
                database.read(Cycles::count));
        one(
                out,
                "evenwash_set_aside_messages",
                "gauge",
                "Messages that could not be read",
                database.read(SetAsides::count));
        one(out, "evenwash_database_bytes", "gauge", "Size of the database", database.size_bytes());
        one(
                out,
                "evenwash_disk_free_bytes",
                "gauge",
                "Free beside the data",
                freeRoom_B.getAsLong());
        benches(out);
        certificates(out);
        requests(out);
        return out.toString();
    }

    private static void head(StringBuilder out, String name, String type, String help) {
        out.append("# HELP ").append(name).append(' ').append(help).append('\n');
        out.append("# TYPE ").append(name).append(' ').append(type).append('\n');
    }

    private static void one(StringBuilder out, String name, String type, String help, long value) {
        head(out, name, type, help);
        out.append(name).append(' ').append(value).append('\n');
    }

    private void benches(StringBuilder out) {
        head(out, "evenwash_bench_online", "gauge", "1 if the bench is connected");
        board.all()
                .forEach(
                        (id, standing) -> {
                            BenchState state = standing.state();
                            boolean online =
                                    state != null && state.state() != BenchState.State.OFFLINE;
                            out.append("evenwash_bench_online{bench=\"")
                                    .append(id)
                                    .append("\"} ")
                                    .append(online ? 1 : 0)
                                    .append('\n');
                        });
        head(out, "evenwash_bench_outbox_records", "gauge", "Records that wait on the bench");
        board.all()
                .forEach(
                        (id, standing) -> {
                            if (standing.state() != null && standing.state().outbox() != null) {
                                out.append("evenwash_bench_outbox_records{bench=\"")
                                        .append(id)
                                        .append("\"} ")
                                        .append(standing.state().outbox().depth())
                                        .append('\n');
                            }
                        });
    }

    private void certificates(StringBuilder out) {
        head(out, "evenwash_certificate_end_seconds", "gauge", "When it ends, seconds since 1970");
        for (Identity identity : renewal.identities()) {
            out.append("evenwash_certificate_end_seconds{file=\"")
                    .append(identity.file().getFileName().toString().replaceAll("[\\\\\"\\n]", "_"))
                    .append("\"} ")
                    .append(identity.until().getEpochSecond())
                    .append('\n');
        }
    }

    private void requests(StringBuilder out) {
        one(
                out,
                "evenwash_http_failures_total",
                "counter",
                "Answers with a status of 500 and above",
                latencies.failures());
        String name = "evenwash_http_request_seconds";
        head(out, name, "histogram", "How long requests took");
        long[] counts = latencies.upToEach();
        for (int i = 0; i < counts.length; i++) {
            String limit =
                    i < Latencies.LIMITS_S.length ? Double.toString(Latencies.LIMITS_S[i]) : "+Inf";
            out.append(name)
                    .append("_bucket{le=\"")
                    .append(limit)
                    .append("\"} ")
                    .append(counts[i])
                    .append('\n');
        }
        out.append(String.format(Locale.ROOT, "%s_sum %.6f%n", name, latencies.sum_s()));
        out.append(name).append("_count ").append(counts[counts.length - 1]).append('\n');
    }
}
