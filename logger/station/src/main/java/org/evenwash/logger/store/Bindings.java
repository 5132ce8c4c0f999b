package org.evenwash.logger.store;

import java.sql.Types;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.argument.AbstractArgumentFactory;
import org.jdbi.v3.core.argument.Argument;
import org.jdbi.v3.core.config.ConfigRegistry;
import org.jdbi.v3.core.mapper.reflect.ColumnNameMatcher;
import org.jdbi.v3.core.mapper.reflect.ReflectionMappers;
import org.jdbi.v3.core.statement.StatementContext;
import org.jdbi.v3.core.statement.StatementException;
import org.jdbi.v3.core.statement.StatementExceptions;

/** How our types stand in columns, the same on both databases. */
final class Bindings {
    private Bindings() {}

    static Jdbi install(Jdbi jdbi) {
        jdbi.registerArgument(
                new AbstractArgumentFactory<UUID>(Types.VARCHAR) {
                    @Override
                    protected Argument build(UUID value, ConfigRegistry config) {
                        return (position, statement, context) ->
                                statement.setString(position, value.toString());
                    }
                });
        jdbi.registerArgument(
                new AbstractArgumentFactory<Instant>(Types.BIGINT) {
                    @Override
                    protected Argument build(Instant value, ConfigRegistry config) {
                        return (position, statement, context) ->
                                statement.setLong(position, value.toEpochMilli());
                    }
                });
        jdbi.registerArgument(
                new AbstractArgumentFactory<LocalDate>(Types.VARCHAR) {
                    @Override
                    protected Argument build(LocalDate value, ConfigRegistry config) {
                        return (position, statement, context) ->
                                statement.setString(position, value.toString());
                    }
                });
        jdbi.registerColumnMapper(
                UUID.class,
                (row, column, context) -> {
                    String text = row.getString(column);
                    return text == null ? null : UUID.fromString(text);
                });
        jdbi.registerColumnMapper(
                Instant.class,
                (row, column, context) -> {
                    long millis = row.getLong(column);
                    return row.wasNull() ? null : Instant.ofEpochMilli(millis);
                });
        jdbi.registerColumnMapper(
                LocalDate.class,
                (row, column, context) -> {
                    String text = row.getString(column);
                    return text == null ? null : LocalDate.parse(text);
                });
        jdbi.getConfig(StatementExceptions.class).setMessageRendering(Bindings::withoutArguments);
        jdbi.getConfig(ReflectionMappers.class).setColumnNameMatchers(List.of(new SameLetters()));
        return jdbi;
    }

    /** What was bound may be a hash of a password, and what an exception says reaches the log. */
    private static String withoutArguments(StatementException e) {
        StatementContext context = e.getStatementContext();
        return context == null
                ? e.getShortMessage()
                : e.getShortMessage() + " [" + context.getRawSql() + "]";
    }

    /** {@code sample_mass_g} is {@code sampleMass_g}: the unit's underscore stays in both. */
    private static final class SameLetters implements ColumnNameMatcher {
        @Override
        public boolean columnNameMatches(String columnName, String javaName) {
            return letters(columnName).equals(letters(javaName));
        }

        @Override
        public boolean columnNameStartsWith(String columnName, String prefix) {
            return letters(columnName).startsWith(letters(prefix));
        }

        private static String letters(String name) {
            return name.replace("_", "").toLowerCase(Locale.ROOT);
        }
    }
}
