package org.evenwash.logger.store;

import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import org.jdbi.v3.core.Handle;

/** Any rows, one after the other, with what their columns hold: for leaving with all data. */
public final class TableDump {
    private static final int ROWS_AT_ONCE = 500;

    /** What a column holds, whichever database it stands in. */
    public enum Kind {
        TEXT,
        /** {@link Long} or {@link Double}. */
        NUMBER,
        /** {@link Boolean}. */
        YES_NO,
        /** {@link Instant}, by the name's end {@code _at}. */
        INSTANT,
        /** Text that is JSON, by the name's end {@code _json}. */
        JSON,
        /** {@code byte[]}. */
        BYTES
    }

    public record Column(String name, Kind kind) {}

    /** Takes the rows; a value is null where the column is empty. */
    public interface Rows {
        void row(List<Column> columns, List<Object> values);
    }

    private TableDump() {}

    /** Every table there is, Flyway's own left out. */
    public static Set<String> tables(Handle handle) {
        try (ResultSet found =
                handle.getConnection()
                        .getMetaData()
                        .getTables(null, null, "%", new String[] {"TABLE"})) {
            Set<String> tables = new TreeSet<>();
            while (found.next()) {
                String name = found.getString("TABLE_NAME").toLowerCase(Locale.ROOT);
                if (!name.startsWith("flyway") && !name.startsWith("sqlite_")) {
                    tables.add(name);
                }
            }
            return tables;
        } catch (SQLException e) {
            throw new DatabaseTrouble("the tables cannot be listed: " + e.getMessage(), e);
        }
    }

    /** Names of a table's columns. */
    public static List<String> columns(Handle handle, String table) {
        try (ResultSet found =
                handle.getConnection().getMetaData().getColumns(null, null, table, "%")) {
            List<String> columns = new ArrayList<>();
            while (found.next()) {
                columns.add(found.getString("COLUMN_NAME").toLowerCase(Locale.ROOT));
            }
            return columns;
        } catch (SQLException e) {
            throw new DatabaseTrouble(
                    "the columns of " + table + " cannot be listed: " + e.getMessage(), e);
        }
    }

    /** Hands on every row of a query, a few at a time. */
    public static void read(Handle handle, String sql, Rows rows) {
        handle.createQuery(sql)
                .setFetchSize(ROWS_AT_ONCE)
                .scanResultSet(
                        (result, context) -> {
                            ResultSet set = result.get();
                            List<Column> columns = columns(set.getMetaData());
                            while (set.next()) {
                                rows.row(columns, values(set, columns));
                            }
                            return null;
                        });
    }

    private static List<Column> columns(ResultSetMetaData meta) throws SQLException {
        List<Column> columns = new ArrayList<>();
        for (int i = 1; i <= meta.getColumnCount(); i++) {
            String name = meta.getColumnLabel(i).toLowerCase(Locale.ROOT);
            columns.add(new Column(name, kind(name, meta.getColumnTypeName(i))));
        }
        return columns;
    }

    private static Kind kind(String name, String type) {
        String declared = type.toLowerCase(Locale.ROOT);
        if (declared.startsWith("bool")) {
            return Kind.YES_NO;
        }
        if (declared.equals("bytea") || declared.equals("blob")) {
            return Kind.BYTES;
        }
        boolean number =
                declared.startsWith("int")
                        || declared.startsWith("bigint")
                        || declared.startsWith("double")
                        || declared.startsWith("float")
                        || declared.startsWith("real")
                        || declared.startsWith("num");
        if (number) {
            return name.endsWith("_at") ? Kind.INSTANT : Kind.NUMBER;
        }
        return name.endsWith("_json") ? Kind.JSON : Kind.TEXT;
    }

    private static List<Object> values(ResultSet row, List<Column> columns) throws SQLException {
        List<Object> values = new ArrayList<>(columns.size());
        for (int i = 1; i <= columns.size(); i++) {
            Kind kind = columns.get(i - 1).kind();
            if (row.getObject(i) == null) {
                values.add(null);
                continue;
            }
            values.add(
                    switch (kind) {
                        case TEXT, JSON -> row.getString(i);
                        case NUMBER -> number(row.getObject(i));
                        case YES_NO -> row.getBoolean(i);
                        case INSTANT -> Instant.ofEpochMilli(row.getLong(i));
                        case BYTES -> row.getBytes(i);
                    });
        }
        return values;
    }

    private static Object number(Object value) {
        boolean whole = value instanceof Integer || value instanceof Long || value instanceof Short;
        return whole ? (Object) ((Number) value).longValue() : ((Number) value).doubleValue();
    }
}
