package org.evenwash.logger.store;

import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * Rows for one statement, in one go and bound by position: by name, most of the time of an insert went into
 * the names. Types stand in columns as {@link Bindings} has them.
 */
final class RowBatch implements AutoCloseable {
    private final PreparedStatement statement;
    private int bound;
    private int rows;

    RowBatch(Handle handle, String sql) {
        try {
            statement = handle.getConnection().prepareStatement(sql);
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    /**
     * @param value may be null
     */
    RowBatch text(String value) {
        try {
            statement.setString(++bound, value);
            return this;
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    /**
     * @param value may be null
     */
    RowBatch id(UUID value) {
        return text(value == null ? null : value.toString());
    }

    RowBatch name(Enum<?> value) {
        return text(value.name());
    }

    RowBatch number(long value) {
        try {
            statement.setLong(++bound, value);
            return this;
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    RowBatch real(double value) {
        try {
            statement.setDouble(++bound, value);
            return this;
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    RowBatch truth(boolean value) {
        try {
            statement.setBoolean(++bound, value);
            return this;
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    RowBatch moment(Instant value) {
        return number(value.toEpochMilli());
    }

    /** The row is whole. */
    void add() {
        try {
            statement.addBatch();
            bound = 0;
            rows++;
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    /** Executes it; for each row whether it changed anything. */
    boolean[] changed() {
        boolean[] changed = new boolean[rows];
        if (rows == 0) {
            return changed;
        }
        try {
            int[] counts = statement.executeBatch();
            for (int i = 0; i < rows; i++) {
                changed[i] = counts[i] == 1;
            }
            return changed;
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    @Override
    public void close() {
        try {
            statement.close();
        } catch (SQLException e) {
            throw refused(e);
        }
    }

    private static DatabaseTrouble refused(SQLException e) {
        return new DatabaseTrouble(Refusal.in(e), e);
    }
}
