package org.evenwash.logger.broker;

import java.net.URI;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.Base64;
import org.apache.activemq.artemis.api.core.SimpleString;
import org.apache.activemq.artemis.core.config.Configuration;
import org.apache.activemq.artemis.core.config.WildcardConfiguration;
import org.apache.activemq.artemis.core.config.impl.ConfigurationImpl;
import org.apache.activemq.artemis.core.server.JournalType;
import org.apache.activemq.artemis.core.server.embedded.EmbeddedActiveMQ;
import org.apache.activemq.artemis.core.settings.impl.AddressFullMessagePolicy;
import org.apache.activemq.artemis.core.settings.impl.AddressSettings;

/** The embedded broker, MQTT on the loopback address unless configured otherwise. */
public final class Broker implements AutoCloseable {
    /** The station's own user: no bench id can be spelt so. */
    public static final String STATION = "Station";

    /** Below this the broker takes no more; benches then keep their records in their outboxes. */
    public static final long LEAST_FREE_DISK_B = 200L << 20;

    /** Four times what the contract allows, so that an oversized message can still be set aside. */
    private static final int LARGEST_PACKET_B = 1 << 20;

    private final EmbeddedActiveMQ server;
    private final String host;
    private final String stationPassword;

    private Broker(EmbeddedActiveMQ server, String host, String stationPassword) {
        this.server = server;
        this.host = host;
        this.stationPassword = stationPassword;
    }

    /**
     * Starts a broker.
     *
     * @param folder where it keeps what is under way
     * @param port 0 for a free one, see {@link #port()}
     * @throws BrokerTrouble if it cannot start, such as when the port is taken
     */
    public static Broker start(Path folder, String host, int port, BenchPasswords benches) {
        byte[] random = new byte[18];
        new SecureRandom().nextBytes(random);
        String password = Base64.getUrlEncoder().withoutPadding().encodeToString(random);
        EmbeddedActiveMQ server = new EmbeddedActiveMQ();
        Broker broker = new Broker(server, host, password);
        try {
            server.setConfiguration(configuration(folder, host, port));
            server.setSecurityManager(new DoorKeeper(password, benches));
            server.start();
        } catch (Exception e) { // the library's own signature
            broker.close();
            throw new BrokerTrouble("the broker cannot start: " + e.getMessage(), e);
        }
        if (broker.port() <= 0) {
            broker.close();
            throw new BrokerTrouble(
                    "the broker cannot listen on port "
                            + port
                            + "; is another program using it? Choose one with --broker-port",
                    null);
        }
        return broker;
    }

    private static Configuration configuration(Path folder, String host, int port)
            throws Exception {
        Configuration configuration =
                new ConfigurationImpl()
                        .setName("evenwash")
                        .setPersistenceEnabled(true)
                        .setJournalType(JournalType.NIO)
                        .setJournalDirectory(folder.resolve("journal").toString())
                        .setBindingsDirectory(folder.resolve("bindings").toString())
                        .setLargeMessagesDirectory(folder.resolve("large").toString())
                        .setPagingDirectory(folder.resolve("paging").toString())
                        .setMinDiskFree(LEAST_FREE_DISK_B)
                        .setSecurityEnabled(true)
                        .setJMXManagementEnabled(false);
        // Addresses then are the topics themselves, and a dot in a topic is only a dot.
        configuration.setWildCardConfiguration(
                new WildcardConfiguration().setDelimiter('/').setSingleWord('+').setAnyWords('#'));
        configuration.addAddressSetting(
                "#",
                new AddressSettings()
                        .setAutoCreateAddresses(true)
                        .setAutoCreateQueues(true)
                        .setAddressFullMessagePolicy(AddressFullMessagePolicy.PAGE)
                        .setMaxSizeBytes(8 << 20)
                        .setPageSizeBytes(1 << 20)
                        // Nothing listens there: what expired, such as an old command, is dropped.
                        .setExpiryAddress(SimpleString.of("expired"))
                        .setDeadLetterAddress(SimpleString.of("undeliverable"))
                        // The default drops a message after ten deliveries without acknowledgement.
                        .setMaxDeliveryAttempts(-1));
        configuration.addAcceptorConfiguration(
                "mqtt",
                "tcp://"
                        + host
                        + ":"
                        + port
                        + "?protocols=MQTT;topicAliasMaximum=0;maximumPacketSize="
                        + LARGEST_PACKET_B);
        return configuration;
    }

    public int port() {
        return server.getActiveMQServer().getRemotingService().getAcceptor("mqtt").getActualPort();
    }

    /** For clients on this machine. */
    public URI address() {
        return URI.create("mqtt://" + host + ":" + port());
    }

    /** Password of the user {@link #STATION}; made anew at each start. */
    public String stationPassword() {
        return stationPassword;
    }

    @Override
    public void close() {
        try {
            server.stop();
        } catch (Exception e) { // the library's own signature
            throw new BrokerTrouble("the broker cannot stop: " + e.getMessage(), e);
        }
    }
}
