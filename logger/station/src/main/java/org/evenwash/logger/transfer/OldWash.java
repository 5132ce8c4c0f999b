package org.evenwash.logger.transfer;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;

/** One row, read: only what was in it, each value of its field's own type. */
final class OldWash {
    private final long line;
    private final Map<WashField, Object> values = new EnumMap<>(WashField.class);

    OldWash(long line) {
        this.line = line;
    }

    long line() {
        return line;
    }

    void put(WashField field, Object value) {
        values.put(field, value);
    }

    /** Null where the row says nothing. */
    <T> T get(WashField field, Class<T> type) {
        return type.cast(values.get(field));
    }

    String text(WashField field) {
        return get(field, String.class);
    }

    Integer whole(WashField field) {
        return get(field, Integer.class);
    }

    Double number(WashField field) {
        return get(field, Double.class);
    }

    boolean yes(WashField field) {
        return Boolean.TRUE.equals(values.get(field));
    }

    LocalDate day() {
        return get(WashField.DAY, LocalDate.class);
    }
}
