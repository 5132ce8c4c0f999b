package org.evenwash.logger.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * Many washes written a thousand at a time, for an import or an invented archive. Belongs to one
 * transaction; nothing is written for sure before {@link #flush}. It speaks JDBC itself: looking values
 * up by name took longer than writing them.
 */
public final class WashBatch implements AutoCloseable {
    static final int SIZE = 1_000;

    private final Rows washes;
    private final Rows passes;
    private final Rows counts;
    private final Rows uses;
    private final Rows lines;

    public WashBatch(Handle handle) {
        Connection connection = handle.getConnection();
        washes = new Rows(connection, Washes.INSERT.replaceAll(":[\\w.]+", "?"));
        passes =
                new Rows(
                        connection,
                        """
                        INSERT INTO pass (id, wash_id, kind, spirit_batch_id, hand_agitation_s, version)
                        VALUES (?, ?, ?, ?, ?, ?)""");
        counts =
                new Rows(
                        connection,
                        """
                        INSERT INTO mite_count (id, pass_id, mites, counted_by, counted_at, recount,
                            blind, version)
                        VALUES (?, ?, ?, ?, ?, ?, ?, ?)""");
        uses = new Rows(connection, SpiritBatches.INSERT_USE.replaceAll(":\\w+", "?"));
        lines =
                new Rows(
                        connection,
                        """
                        INSERT INTO import_wash (wash_id, import_id, line, row_key)
                        VALUES (?, ?, ?, ?)""");
    }

    public void add(Wash wash) {
        if (washes.waiting >= SIZE) {
            flush();
        }
        washes.add(
                wash.id(),
                wash.colonyId(),
                wash.apiaryId(),
                wash.sampledOn(),
                wash.operatorId(),
                wash.frame(),
                wash.queenCheck(),
                wash.beeMeasure(),
                wash.bees(),
                wash.beesLogSd(),
                wash.sampleMass_g(),
                wash.beesCountedBy(),
                wash.rinses(),
                wash.handling().frames(),
                wash.handling().liquid_mL(),
                wash.handling().beesCovered(),
                wash.handling().beeSieve_mm(),
                wash.handling().miteSieve_mm(),
                wash.handling().jarWallsChecked(),
                wash.handling().timesWashed(),
                wash.remarks(),
                wash.simulated(),
                wash.plannedAt(),
                wash.removedAt(),
                wash.version());
    }

    /** After its wash. */
    public void add(WashPass pass) {
        passes.add(
                pass.id(),
                pass.washId(),
                pass.kind(),
                pass.spiritBatchId(),
                pass.handAgitation_s(),
                pass.version());
    }

    /** After its pass. */
    public void add(MiteCount count) {
        counts.add(
                count.id(),
                count.passId(),
                count.mites(),
                count.countedBy(),
                count.countedAt(),
                count.recount(),
                count.blind(),
                count.version());
    }

    /** After its pass. */
    public void add(SpiritUse use) {
        uses.add(
                use.id(),
                use.spiritBatchId(),
                use.kind(),
                use.passId(),
                use.volume_mL(),
                use.strength_pctVol(),
                use.remarks(),
                use.happenedAt(),
                use.recordedBy());
    }

    /** From which line of which file a wash came. */
    public void from(UUID importId, long line, long rowKey, UUID washId) {
        lines.add(washId, importId, line, rowKey);
    }

    /** Writes what was added: parents before children. */
    public void flush() {
        washes.write();
        passes.write();
        counts.write();
        uses.write();
        lines.write();
    }

    @Override
    public void close() {
        washes.close();
        passes.close();
        counts.close();
        uses.close();
        lines.close();
    }

    /** Rows of one table, waiting. */
    private static final class Rows {
        private final PreparedStatement statement;
        private int waiting;

        // Closed with its rows.
        @SuppressWarnings("resource")
        Rows(Connection connection, String sql) {
            try {
                statement = connection.prepareStatement(sql);
            } catch (SQLException e) {
                throw trouble(e);
            }
        }

        void add(Object... values) {
            try {
                for (int i = 0; i < values.length; i++) {
                    set(i + 1, values[i]);
                }
                statement.addBatch();
                waiting++;
            } catch (SQLException e) {
                throw trouble(e);
            }
        }

        /** As {@link Bindings} has it. */
        private void set(int place, Object value) throws SQLException {
            if (value instanceof UUID || value instanceof LocalDate) {
                statement.setString(place, value.toString());
            } else if (value instanceof Enum<?> one) {
                statement.setString(place, one.name());
            } else if (value instanceof Instant at) {
                statement.setLong(place, at.toEpochMilli());
            } else if (value instanceof Boolean yes) {
                statement.setBoolean(place, yes);
            } else {
                statement.setObject(place, value);
            }
        }

        void write() {
            if (waiting == 0) {
                return;
            }
            try {
                statement.executeBatch();
                waiting = 0;
            } catch (SQLException e) {
                throw trouble(e);
            }
        }

        void close() {
            try {
                statement.close();
            } catch (SQLException e) {
                throw trouble(e);
            }
        }

        private static DatabaseTrouble trouble(SQLException e) {
            return new DatabaseTrouble("washes cannot be written: " + e.getMessage(), e);
        }
    }
}
