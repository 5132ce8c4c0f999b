package org.evenwash.logger;

import java.net.URI;
import java.nio.file.Path;
import org.evenwash.logger.tls.Identity;

/**
 * How a station is run.
 *
 * @param data folder of the database, the broker's journal and the station's own id
 * @param database JDBC address, null for a SQLite file in the data folder
 * @param broker address of an outside broker, null for the embedded one
 * @param brokerUser with an outside broker, null if it asks for none
 * @param brokerHost address that the embedded broker listens on
 * @param brokerPort of the embedded broker, 0 for a free one
 * @param brokerIdentity certificate of the embedded broker, null for plain MQTT on loopback
 * @param brokerTrust authorities that an outside broker's certificate must come from, null for Java's
 * @param group shared by several stations over one database, null for a station by itself
 * @param demonstration true only for invented data; needs an empty database
 */
public record StationConfig(
        Path data,
        String database,
        URI broker,
        String brokerUser,
        String brokerPassword,
        String brokerHost,
        int brokerPort,
        Identity brokerIdentity,
        Path brokerTrust,
        String group,
        boolean demonstration) {

    public static final int BROKER_PORT = 1883;
    public static final int BROKER_TLS_PORT = 8883;
    private static final String LOOPBACK = "127.0.0.1";

    /** SQLite and the embedded broker on a free loopback port. */
    public static StationConfig inFolder(Path data) {
        return new StationConfig(
                data, null, null, null, null, LOOPBACK, 0, null, null, null, false);
    }

    public StationConfig onBrokerPort(int port) {
        return listening(brokerHost, port, brokerIdentity);
    }

    /**
     * Where the embedded broker listens, and with which certificate.
     *
     * @param identity null for plain MQTT, which is allowed on loopback only
     */
    public StationConfig listening(String host, int port, Identity identity) {
        return new StationConfig(
                data,
                database,
                broker,
                brokerUser,
                brokerPassword,
                host,
                port,
                identity,
                brokerTrust,
                group,
                demonstration);
    }

    public StationConfig withDatabase(String url) {
        return new StationConfig(
                data,
                url,
                broker,
                brokerUser,
                brokerPassword,
                brokerHost,
                brokerPort,
                brokerIdentity,
                brokerTrust,
                group,
                demonstration);
    }

    public StationConfig withBroker(URI address, String user, String password) {
        return withBroker(address, user, password, null);
    }

    /**
     * An outside broker.
     *
     * @param trust file with the authorities that its certificate must come from, null for Java's own
     */
    public StationConfig withBroker(URI address, String user, String password, Path trust) {
        return new StationConfig(
                data,
                database,
                address,
                user,
                password,
                brokerHost,
                brokerPort,
                brokerIdentity,
                trust,
                group,
                demonstration);
    }

    public StationConfig inGroup(String name) {
        return with(name, demonstration);
    }

    public StationConfig asDemonstration() {
        return with(group, true);
    }

    private StationConfig with(String otherGroup, boolean invented) {
        return new StationConfig(
                data,
                database,
                broker,
                brokerUser,
                brokerPassword,
                brokerHost,
                brokerPort,
                brokerIdentity,
                brokerTrust,
                otherGroup,
                invented);
    }

    /** The database in use. */
    public String databaseUrl() {
        return database != null ? database : "jdbc:sqlite:" + DataFolder.database(data);
    }
}
