package org.evenwash.logger.store;

import java.util.function.UnaryOperator;
import javax.sql.DataSource;
import org.postgresql.PGProperty;
import org.postgresql.ds.PGSimpleDataSource;

/** How PostgreSQL is reached. */
final class Postgres {
    private static final int PATIENCE_S = 120;
    private static final String EXPECTED =
            "expected jdbc:postgresql://HOST/NAME?user=NAME, with the password in the file that"
                    + " PGPASSFILE names";

    private Postgres() {}

    /**
     * User and password come from the address; where it has none, from {@code PGUSER} and {@code
     * PGPASSWORD}, and else from the file that {@code PGPASSFILE} names, as PostgreSQL's own programs do.
     */
    static DataSource source(String url, UnaryOperator<String> environment) {
        PGSimpleDataSource source = new PGSimpleDataSource();
        try {
            // The library would take a password before the host for a port, and log it.
            if (url.matches("[^?]*//[^/?]*@.*")) {
                throw unreadable(url);
            }
            source.setUrl(url);
        } catch (IllegalArgumentException e) {
            // Its message repeats the address, and a password may stand in it.
            throw unreadable(url);
        }
        if (source.getUser() == null) {
            source.setUser(environment.apply("PGUSER"));
        }
        if (source.getPassword() == null) {
            source.setPassword(environment.apply("PGPASSWORD"));
        }
        if (!url.contains(PGProperty.APPLICATION_NAME.getName() + "=")) {
            source.setApplicationName("evenwash-logger");
        }
        // Without these a server that vanished from the network would be waited for without end.
        source.setTcpKeepAlive(true);
        if (source.getSocketTimeout() == 0) {
            source.setSocketTimeout(PATIENCE_S);
        }
        // The details are the row that was refused, and a batch would be told with all its values.
        source.setLogServerErrorDetail(false);
        return source;
    }

    private static DatabaseTrouble unreadable(String url) {
        return new DatabaseTrouble(
                "the database address " + withoutSecrets(url) + " cannot be read, " + EXPECTED);
    }

    /** The address as it may be shown and logged. */
    static String withoutSecrets(String url) {
        return url.replaceAll("\\?.*", "").replaceAll("//[^/@]*@", "//");
    }

    /** The same address as PostgreSQL's own programs take it. */
    static String forItsOwnPrograms(String url) {
        return withoutSecrets(url).replaceFirst("^jdbc:", "");
    }
}
