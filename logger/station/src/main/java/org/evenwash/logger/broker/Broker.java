package org.evenwash.logger.broker;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.HashSet;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import org.apache.activemq.artemis.api.core.SimpleString;
import org.apache.activemq.artemis.core.config.Configuration;
import org.apache.activemq.artemis.core.config.WildcardConfiguration;
import org.apache.activemq.artemis.core.config.impl.ConfigurationImpl;
import org.apache.activemq.artemis.core.server.JournalType;
import org.apache.activemq.artemis.core.server.embedded.EmbeddedActiveMQ;
import org.apache.activemq.artemis.core.settings.impl.AddressFullMessagePolicy;
import org.apache.activemq.artemis.core.settings.impl.AddressSettings;
import org.apache.activemq.artemis.spi.core.protocol.RemotingConnection;
import org.evenwash.logger.secret.RandomSecret;
import org.evenwash.logger.tls.Identity;

/** The embedded broker: plain MQTT on loopback, MQTT over TLS beyond. */
public final class Broker implements AutoCloseable {
    /** The station's own user: no bench id can be spelt so. */
    public static final String STATION = "Station";

    /** Below this the broker takes no more; benches then keep their records in their outboxes. */
    public static final long LEAST_FREE_DISK_B = 200L << 20;

    /** Four times what the contract allows, so that an oversized message can still be set aside. */
    private static final int LARGEST_PACKET_B = 1 << 20;

    private static final String BENCHES = "mqtt";
    private static final String OWN_LINE = "own-line";
    private static final String MQTT =
            "?protocols=MQTT;topicAliasMaximum=0;maximumPacketSize=" + LARGEST_PACKET_B;

    private final EmbeddedActiveMQ server;
    private final String host;
    private final boolean secure;
    private final String stationPassword;
    private final SelfStop selfStop = new SelfStop();

    private Broker(EmbeddedActiveMQ server, String host, boolean secure, String stationPassword) {
        this.server = server;
        this.host = host;
        this.secure = secure;
        this.stationPassword = stationPassword;
    }

    /**
     * Starts a broker.
     *
     * @param folder where it keeps what is under way
     * @param port 0 for a free one, see {@link #port()}
     * @param identity certificate to speak TLS with, null for plain MQTT on loopback
     * @throws BrokerTrouble if it cannot start, such as when the port is taken, or if passwords would
     *     leave this machine in clear
     */
    public static Broker start(
            Path folder, String host, int port, Identity identity, BenchPasswords benches) {
        if (identity == null && !isLoopback(host)) {
            throw new BrokerTrouble(
                    "the broker would listen on "
                            + host
                            + " without TLS, and passwords of benches would travel in clear; make"
                            + " certificates with 'evenwash-logger ca create'",
                    null);
        }
        mustBeFree(host, port);
        byte[] random = new byte[18];
        new SecureRandom().nextBytes(random);
        String password = Base64.getUrlEncoder().withoutPadding().encodeToString(random);
        EmbeddedActiveMQ server = new EmbeddedActiveMQ();
        Broker broker = new Broker(server, host, identity != null, password);
        try {
            server.setConfiguration(configuration(folder, host, port, identity));
            server.setSecurityManager(new DoorKeeper(password, benches));
            server.start();
            server.getActiveMQServer()
                    .getRemotingService()
                    .addIncomingInterceptor(new PlainNames());
            broker.selfStop.watch(server.getActiveMQServer(), folder);
        } catch (Exception e) { // the library's own signature
            broker.close();
            throw new BrokerTrouble("the broker cannot start: " + e.getMessage(), e);
        }
        if (broker.port() <= 0) {
            broker.close();
            throw busy(host, port, null);
        }
        return broker;
    }

    /** Artemis would tell of a busy port in two stack traces and start without it. */
    private static void mustBeFree(String host, int port) {
        try (ServerSocket trial = new ServerSocket()) {
            trial.setReuseAddress(
                    true); // as Artemis will: connections of an earlier run may linger
            trial.bind(new InetSocketAddress(InetAddress.getByName(host), port));
        } catch (IOException e) {
            throw busy(host, port, e);
        }
    }

    private static BrokerTrouble busy(String host, int port, IOException cause) {
        return new BrokerTrouble(
                "the broker cannot listen on port "
                        + port
                        + " of "
                        + host
                        + (cause == null ? "" : " (" + cause.getMessage() + ")")
                        + "; is another program using it? Choose one with --broker-port",
                cause);
    }

    private static boolean isLoopback(String host) {
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            throw new BrokerTrouble("the broker cannot listen on '" + host + "': no such host", e);
        }
    }

    private static Configuration configuration(
            Path folder, String host, int port, Identity identity) throws Exception {
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
                        .setCriticalAnalyzerTimeout(SelfStop.LONGEST_STANDSTILL_MS)
                        .setSecurityEnabled(true)
                        // Whoever knows these two passes every check of Artemis, and its own are in
                        // its manual. Nobody needs them here.
                        .setClusterUser(RandomSecret.make())
                        .setClusterPassword(RandomSecret.make())
                        // A password that was right a moment ago says nothing of the client id that
                        // comes with it now, and Artemis would remember it without.
                        .setAuthenticationCacheSize(0)
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
        String tls = identity == null ? "" : TlsStore.write(folder, identity);
        configuration.addAcceptorConfiguration(BENCHES, "tcp://" + host + ":" + port + MQTT + tls);
        if (identity != null) {
            // The station's own line needs no TLS: it never leaves this machine.
            configuration.addAcceptorConfiguration(OWN_LINE, "tcp://127.0.0.1:0" + MQTT);
        }
        return configuration;
    }

    public int port() {
        return port(BENCHES);
    }

    private int port(String acceptor) {
        return server.getActiveMQServer()
                .getRemotingService()
                .getAcceptor(acceptor)
                .getActualPort();
    }

    /** Where benches connect. */
    public URI address() {
        return URI.create((secure ? "mqtts://" : "mqtt://") + host + ":" + port());
    }

    /** Where the station itself connects. */
    public URI ownAddress() {
        return secure ? URI.create("mqtt://127.0.0.1:" + port(OWN_LINE)) : address();
    }

    /** Ids of the benches that have signed in. */
    public Set<String> connectedBenches() {
        Set<String> users = new HashSet<>();
        for (RemotingConnection connection : connections()) {
            users.add(DoorKeeper.userOf(connection.getSubject()));
        }
        users.removeAll(Set.of(STATION, ""));
        return users;
    }

    /**
     * Ends all connections on which a bench has signed in, whatever they call themselves.
     *
     * @return whether there was one
     */
    public boolean cut(String benchId) {
        boolean found = false;
        for (RemotingConnection connection : connections()) {
            if (benchId.equals(DoorKeeper.userOf(connection.getSubject()))) {
                // The broker then finds the line broken, as when a bench loses its power.
                connection.getTransportConnection().forceClose();
                found = true;
            }
        }
        return found;
    }

    private Set<RemotingConnection> connections() {
        return server.getActiveMQServer().getRemotingService().getConnections();
    }

    /** Password of the user {@link #STATION}; made anew at each start. */
    public String stationPassword() {
        return stationPassword;
    }

    /** Completed, with what happened and what to do, when the broker ends without being asked to. */
    public CompletableFuture<BrokerTrouble> selfStop() {
        return selfStop.told();
    }

    @Override
    public void close() {
        selfStop.expected();
        try {
            server.stop();
        } catch (Exception e) { // the library's own signature
            throw new BrokerTrouble("the broker cannot stop: " + e.getMessage(), e);
        }
    }
}
