package org.evenwash.logger;

import java.net.URI;
import java.nio.file.Path;

/**
 * How a station is run.
 *
 * @param data folder of the database, the broker's journal and the station's own id
 * @param database JDBC address, null for a SQLite file in the data folder
 * @param broker address of an outside broker, null for the embedded one
 * @param brokerUser with an outside broker, null if it asks for none
 * @param brokerHost address that the embedded broker listens on
 * @param brokerPort of the embedded broker, 0 for a free one
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
        String group,
        boolean demonstration) {

    public static final int BROKER_PORT = 1883;
    private static final String LOOPBACK = "127.0.0.1";

    /** SQLite and the embedded broker on a free loopback port. */
    public static StationConfig inFolder(Path data) {
        return new StationConfig(data, null, null, null, null, LOOPBACK, 0, null, false);
    }

    public StationConfig onBrokerPort(int port) {
        return new StationConfig(
                data,
                database,
                broker,
                brokerUser,
                brokerPassword,
                brokerHost,
                port,
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
                group,
                demonstration);
    }

    public StationConfig withBroker(URI address, String user, String password) {
        return new StationConfig(
                data,
                database,
                address,
                user,
                password,
                brokerHost,
                brokerPort,
                group,
                demonstration);
    }

    public StationConfig inGroup(String name) {
        return new StationConfig(
                data,
                database,
                broker,
                brokerUser,
                brokerPassword,
                brokerHost,
                brokerPort,
                name,
                demonstration);
    }

    public StationConfig asDemonstration() {
        return new StationConfig(
                data,
                database,
                broker,
                brokerUser,
                brokerPassword,
                brokerHost,
                brokerPort,
                group,
                true);
    }

    /** The database in use. */
    public String databaseUrl() {
        return database != null ? database : "jdbc:sqlite:" + DataFolder.database(data);
    }
}
