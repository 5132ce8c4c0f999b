package org.evenwash.logger;

import java.net.URI;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import org.evenwash.logger.broker.Broker;
import org.evenwash.logger.broker.BrokerTrouble;
import org.evenwash.logger.intake.BenchBoard;
import org.evenwash.logger.intake.Intake;
import org.evenwash.logger.intake.LineConfig;
import org.evenwash.logger.intake.MqttLine;
import org.evenwash.logger.intake.Share;
import org.evenwash.logger.secret.BenchPassword;
import org.evenwash.logger.store.Bench;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.tls.Identity;
import org.evenwash.logger.wash.Workplace;

/** A running logger: database, broker, intake and services, opened in this order and closed in reverse. */
public final class Station implements AutoCloseable {
    private final Deque<AutoCloseable> open = new ArrayDeque<>();
    private final BenchBoard board = new BenchBoard();
    private final DataFolder folder;
    private final Database database;
    private final Broker broker;
    private final MqttLine line;
    private final Intake intake;
    private final Workplace workplace;
    private final URI brokerAddress;
    private final StationConfig config;

    private Station(StationConfig config, Clock clock) {
        this.config = config;
        try {
            folder = opened(DataFolder.take(config.data()));
            if (config.database() == null) {
                DataFolder.refuseHalfRestored(config.data());
            }
            database = opened(Database.open(config.databaseUrl()));
            if (config.demonstration()) {
                database.becomeDemonstration();
            }
            broker = config.broker() == null ? opened(ownBroker(config, folder)) : null;
            brokerAddress = broker == null ? config.broker() : broker.address();
            line = opened(new MqttLine(lineConfig(config, folder)));
            workplace = Workplace.over(database, line, clock, folder.rules());
            workplace.recipes().addShipped();
            intake = opened(new Intake(database, line, board, clock));
            if (broker != null) {
                opened(new BenchWatch(database, broker)).start();
            }
            intake.start();
            line.start();
        } catch (RuntimeException e) {
            close();
            throw e;
        }
    }

    /**
     * Starts a station. It is usable at once; the line to the broker comes up beside it.
     *
     * @throws StationTrouble if the data folder is in use
     */
    public static Station start(StationConfig config) {
        return start(config, Clock.systemUTC());
    }

    /** As {@link #start(StationConfig)}, by another clock than this computer's. */
    public static Station start(StationConfig config, Clock clock) {
        return new Station(config, clock);
    }

    private <T extends AutoCloseable> T opened(T part) {
        open.push(part);
        return part;
    }

    private Broker ownBroker(StationConfig config, DataFolder folder) {
        return Broker.start(
                folder.broker(),
                config.brokerHost(),
                config.brokerPort(),
                config.brokerIdentity(),
                this::passwordMatches);
    }

    private boolean passwordMatches(String benchId, String password) {
        Optional<String> hash =
                database.read(handle -> Benches.find(handle, benchId)).map(Bench::passwordHash);
        return hash.isPresent() && BenchPassword.matches(password, hash.get());
    }

    private LineConfig lineConfig(StationConfig config, DataFolder folder) {
        return broker == null
                ? new LineConfig(
                        config.broker(),
                        config.brokerUser(),
                        config.brokerPassword(),
                        folder.stationId(),
                        config.brokerTrust(),
                        config.group() == null ? null : Share.of(database, config.group()))
                : new LineConfig(
                        broker.ownAddress(),
                        Broker.STATION,
                        broker.stationPassword(),
                        folder.stationId(),
                        null,
                        null);
    }

    /** The services that pages, API, CLI and demo use. */
    public Workplace workplace() {
        return workplace;
    }

    /** How the benches stand now. */
    public BenchBoard board() {
        return board;
    }

    public Database database() {
        return database;
    }

    /** Where benches connect. */
    public URI brokerAddress() {
        return brokerAddress;
    }

    /** The port of the embedded broker, -1 with an outside one. */
    public int brokerPort() {
        return broker == null ? -1 : broker.port();
    }

    /** Completed when the embedded broker ended by itself; never with an outside one, which may come back. */
    public CompletableFuture<BrokerTrouble> brokerSelfStop() {
        return broker == null ? new CompletableFuture<>() : broker.selfStop();
    }

    /** Whether the broker is reached now. */
    public boolean isConnected() {
        return line.isUp();
    }

    /** What database and broker may still write, bytes. */
    public long freeRoom_B() {
        return folder.freeRoom_B();
    }

    /** The data folder. */
    public Path folder() {
        return config.data();
    }

    /** Certificates of the embedded broker: one, or none. */
    public List<Identity> certificates() {
        Identity identity = broker == null ? null : config.brokerIdentity();
        return identity == null ? List.of() : List.of(identity);
    }

    /** Records and events committed since the start. */
    public long committed() {
        return intake.committed();
    }

    @Override
    public void close() {
        RuntimeException first = null;
        while (!open.isEmpty()) {
            try {
                open.pop().close();
            } catch (Exception e) { // AutoCloseable's own signature
                RuntimeException trouble =
                        e instanceof RuntimeException known
                                ? known
                                : new StationTrouble("cannot close the station", e);
                if (first == null) {
                    first = trouble;
                } else {
                    first.addSuppressed(trouble);
                }
            }
        }
        if (first != null) {
            throw first;
        }
    }
}
