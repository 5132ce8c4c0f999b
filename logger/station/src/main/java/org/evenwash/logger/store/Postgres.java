package org.evenwash.logger.store;

import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import javax.sql.DataSource;
import org.evenwash.logger.tls.Loopback;
import org.postgresql.PGProperty;
import org.postgresql.ds.PGSimpleDataSource;
import org.postgresql.jdbc.SslMode;

/** How PostgreSQL is reached. */
final class Postgres {
    private static final int PATIENCE_S = 120;
    private static final String EXPECTED =
            "expected jdbc:postgresql://HOST/NAME?user=NAME, with the password in the file that"
                    + " PGPASSFILE names";

    /** Ways of TLS that ask who the server is. */
    private static final Set<String> CHECKED =
            Set.of(SslMode.VERIFY_CA.value, SslMode.VERIFY_FULL.value);

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
        encrypted(source, url);
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

    /**
     * Beyond this machine a server has to show a certificate before it may ask for the password: the
     * library by itself would go on without TLS where a server says that it has none.
     */
    private static void encrypted(PGSimpleDataSource source, String url) {
        if (Stream.of(source.getServerNames()).allMatch(Loopback::is)) {
            return;
        }
        String mode = source.getSslMode();
        if (mode == null) {
            source.setSslMode(SslMode.VERIFY_FULL.value);
        } else if (!CHECKED.contains(mode)) {
            throw new DatabaseTrouble(
                    "the database address "
                            + withoutSecrets(url)
                            + " has sslmode="
                            + mode
                            + ", with which somebody on the way could read the password; take it out, and"
                            + " name the authority of the server's certificate with sslrootcert=FILE");
        }
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
