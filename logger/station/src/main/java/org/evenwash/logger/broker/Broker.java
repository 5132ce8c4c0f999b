package org.evenwash.logger.broker;

import java.net.InetAddress;
import java.net.URI;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import org.apache.activemq.artemis.api.core.SimpleString;
import org.apache.activemq.artemis.core.config.Configuration;
import org.apache.activemq.artemis.core.config.WildcardConfiguration;
import org.apache.activemq.artemis.core.config.impl.ConfigurationImpl;
import org.apache.activemq.artemis.core.remoting.impl.netty.NettyAcceptor;
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
    static final int LARGEST_PACKET_B = 1 << 20;

    private static final String BENCHES = "mqtt";
    private static final String OWN_LINE = "own-line";
    private static final String LOOPBACK = "127.0.0.1";

    /**
     * Upgraded from HTTP, in Artemis' words, are connections that another accepts and hands over: an {@link
     * Entrance} does, which also ends those that do not sign in.
     */
    private static final String MQTT =
            "?protocols=MQTT;httpUpgradeEnabled=true;handshake-timeout=0"
                    + ";topicAliasMaximum=0;maximumPacketSize="
                    + LARGEST_PACKET_B;

    private final EmbeddedActiveMQ server;
    private final Map<String, Entrance> entrances = new HashMap<>();
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
        if (!isLoopback(host) && identity == null) {
            throw new BrokerTrouble(
                    "the broker would listen on "
                            + host
                            + " without TLS, and passwords of benches would travel in clear; make"
                            + " certificates with 'evenwash-logger ca create'",
                    null);
        }
        String password = RandomSecret.make();
        EmbeddedActiveMQ server = new EmbeddedActiveMQ();
        Broker broker = new Broker(server, host, identity != null, password);
        try {
            server.setConfiguration(configuration(folder, identity));
            server.setSecurityManager(new DoorKeeper(password, benches));
            server.start();
            server.getActiveMQServer()
                    .getRemotingService()
                    .addIncomingInterceptor(new PlainNames());
            broker.selfStop.watch(server.getActiveMQServer(), folder);
            broker.listen(port);
        } catch (BrokerTrouble e) {
            broker.close();
            throw e;
        } catch (Exception e) { // the library's own signature
            broker.close();
            throw new BrokerTrouble("the broker cannot start: " + e.getMessage(), e);
        }
        return broker;
    }

    /** Last of all: nobody gets in before every rule stands. */
    private void listen(int port) {
        entrances.put(BENCHES, Entrance.open(acceptor(BENCHES), host, port, secure));
        if (secure) {
            // The station's own line needs no TLS: it never leaves this machine.
            entrances.put(OWN_LINE, Entrance.open(acceptor(OWN_LINE), LOOPBACK, 0, false));
        }
    }

    /** Artemis logs what is wrong with one, and starts without it. */
    private NettyAcceptor acceptor(String name) {
        if (server.getActiveMQServer().getRemotingService().getAcceptor(name)
                instanceof NettyAcceptor acceptor) {
            return acceptor;
        }
        throw new BrokerTrouble("the broker cannot start its part '" + name + "', see above", null);
    }

    private static boolean isLoopback(String host) {
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            throw new BrokerTrouble("the broker cannot listen on '" + host + "': no such host", e);
        }
    }

    private static Configuration configuration(Path folder, Identity identity) throws Exception {
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
        String nowhere = "tcp://" + LOOPBACK + ":0";
        configuration.addAcceptorConfiguration(BENCHES, nowhere + MQTT + tls);
        if (identity != null) {
            configuration.addAcceptorConfiguration(OWN_LINE, nowhere + MQTT);
        }
        return configuration;
    }

    public int port() {
        return entrances.get(BENCHES).port();
    }

    /** Where benches connect. */
    public URI address() {
        return URI.create((secure ? "mqtts://" : "mqtt://") + host + ":" + port());
    }

    /** Where the station itself connects. */
    public URI ownAddress() {
        return secure
                ? URI.create("mqtt://" + LOOPBACK + ":" + entrances.get(OWN_LINE).port())
                : address();
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
        entrances.values().forEach(Entrance::shut);
        try {
            server.stop();
        } catch (Exception e) { // the library's own signature
            throw new BrokerTrouble("the broker cannot stop: " + e.getMessage(), e);
        } finally {
            entrances.values().forEach(Entrance::close);
        }
    }
}
