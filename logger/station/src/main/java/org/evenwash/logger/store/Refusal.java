package org.evenwash.logger.store;

import java.sql.SQLException;
import org.postgresql.util.PSQLException;

/**
 * A database's own sentence about what it refused. The libraries above it add the statement and what was
 * bound to it: bytes that the database will not take, and people's data.
 */
final class Refusal {
    private static final int LONGEST = 300;

    /** SQLSTATE of a character that the database's encoding does not have. */
    private static final String NOT_A_CHARACTER = "22021";

    private Refusal() {}

    static String in(Throwable trouble) {
        String said = sentence(trouble).replaceAll("\\p{Cntrl}+", " ").strip();
        return said.length() <= LONGEST ? said : said.substring(0, LONGEST - 3) + "...";
    }

    static boolean isOfCharacters(Throwable trouble) {
        for (Throwable cause = trouble; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLException refused
                    && NOT_A_CHARACTER.equals(refused.getSQLState())) {
                return true;
            }
        }
        return false;
    }

    private static String sentence(Throwable trouble) {
        Throwable root = trouble;
        while (root.getCause() != null && !(root instanceof SQLException)) {
            root = root.getCause();
        }
        // Of a batch, the first only tells which row; what was wrong with it comes after.
        while (root instanceof SQLException one && one.getNextException() != null) {
            root = one.getNextException();
        }
        if (root instanceof PSQLException told && told.getServerErrorMessage() != null) {
            return String.valueOf(told.getServerErrorMessage().getMessage());
        }
        return String.valueOf(root.getMessage());
    }
}
