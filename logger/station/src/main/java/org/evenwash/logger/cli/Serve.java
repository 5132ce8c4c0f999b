package org.evenwash.logger.cli;

import io.javalin.util.JavalinBindException;
import java.io.IOException;
import java.io.PrintWriter;
import java.net.URI;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.Callable;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.broker.BrokerTrouble;
import org.evenwash.logger.store.Accounts;
import org.evenwash.logger.tls.Identity;
import org.evenwash.logger.web.WebServer;
import org.evenwash.logger.web.WebSettings;
import org.slf4j.LoggerFactory;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

@Command(
        name = "serve",
        description = "Runs the station until it is stopped.",
        mixinStandardHelpOptions = true)
final class Serve implements Callable<Integer> {
    private static final Duration LONGEST_CLOSING = Duration.ofSeconds(20);

    @Mixin DataOption data;
    @Mixin ReachOptions reach;
    @Spec CommandSpec spec;

    @Option(
            names = "--port",
            paramLabel = "PORT",
            description = "Port of the pages; 0 takes a free one. Default: ${DEFAULT-VALUE}",
            defaultValue = "8080")
    int port;

    @Option(
            names = "--broker-port",
            paramLabel = "PORT",
            description =
                    "Port of the embedded broker; 0 takes a free one. Default: 1883, with TLS 8883")
    Integer brokerPort;

    @Option(
            names = "--broker",
            paramLabel = "URI",
            description = {
                "mqtt://[USER@]HOST:PORT or mqtts://… of a broker that runs already;",
                "without it, the embedded one."
            })
    String broker;

    @Option(
            names = "--broker-password-file",
            paramLabel = "FILE",
            description = "Holds the password of USER in its first line.")
    Path brokerPasswordFile;

    @Option(
            names = "--broker-ca",
            paramLabel = "FILE",
            description =
                    "Authorities that the broker's certificate must come from; without it, Java's.")
    Path brokerTrust;

    @Option(
            names = "--group",
            paramLabel = "NAME",
            description = {
                "Several stations of one name share what the benches send; each needs its own --data,",
                "all the same --broker and the same --database of PostgreSQL."
            })
    String group;

    @Option(
            names = "--json-log",
            description = {
                "Everything that is told, as one JSON object a line on the error output, for programs",
                "that collect logs."
            })
    boolean jsonLog;

    @Override
    public Integer call() throws InterruptedException {
        if (jsonLog) {
            // Before anything is logged.
            System.setProperty("logback.configurationFile", "org/evenwash/logger/json-log.xml");
        }
        StationConfig config = config();
        WebSettings settings = reach.web(data.folder, port("--port", port));
        CountDownLatch asked = new CountDownLatch(1);
        CountDownLatch closed = new CountDownLatch(1);
        CompletableFuture<BrokerTrouble> broken = new CompletableFuture<>();
        try (Station station = Station.start(config);
                WebServer pages = pages(station, settings)) {
            Runtime.getRuntime().addShutdownHook(new Thread(() -> stop(asked, closed), "stop"));
            say("Data folder: " + config.data().toAbsolutePath());
            say("Benches connect to " + station.brokerAddress());
            say("Pages at " + pages.address());
            if (!station.database().read(Accounts::any)) {
                say(
                        "Nobody has a password yet, so only this machine can open them. The first is"
                                + " set at "
                                + pages.address().resolve("/accounts"));
            }
            if (!jsonLog) {
                say("Stop with Ctrl-C.");
            }
            var unused =
                    station.brokerSelfStop()
                            .thenAccept(
                                    trouble -> {
                                        broken.complete(trouble);
                                        asked.countDown();
                                    });
            asked.await();
            if (broken.isDone()) {
                brokerStopped(broken.join());
                return ExitCode.BROKER_STOPPED;
            }
        } finally {
            closed.countDown();
        }
        return ExitCode.RESULT;
    }

    private void say(String line) {
        if (jsonLog) {
            LoggerFactory.getLogger(Serve.class).info(line);
        } else {
            PrintWriter out = spec.commandLine().getOut();
            out.println(line);
            out.flush();
        }
    }

    /** Without its broker the logger is half dead: it ends, so that it can be started again whole. */
    private void brokerStopped(BrokerTrouble trouble) {
        String sentence = "The logger ends: " + trouble.getMessage() + ".";
        if (jsonLog) {
            LoggerFactory.getLogger(Serve.class).error(sentence);
        } else {
            spec.commandLine().getErr().println(sentence);
            spec.commandLine().getErr().flush();
        }
        // What hangs may also hang when it is closed.
        Thread end =
                new Thread(
                        () -> {
                            LockSupport.parkNanos(LONGEST_CLOSING.toNanos());
                            Runtime.getRuntime().halt(ExitCode.BROKER_STOPPED);
                        },
                        "last resort");
        end.setDaemon(true);
        end.start();
    }

    /** The process ends when this returns, so it waits until the station is closed. */
    private static void stop(CountDownLatch asked, CountDownLatch closed) {
        asked.countDown();
        try {
            closed.await();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static WebServer pages(Station station, WebSettings settings) {
        try {
            return WebServer.start(station, settings);
        } catch (JavalinBindException e) {
            throw new BadInput(
                    "port "
                            + settings.port()
                            + " is busy; choose another with --port, or 0 for a free one");
        }
    }

    private StationConfig config() {
        Identity identity = broker == null ? reach.broker(data.folder) : null;
        int usual = identity == null ? StationConfig.BROKER_PORT : StationConfig.BROKER_TLS_PORT;
        StationConfig config =
                StationConfig.inFolder(data.own())
                        .listening(
                                reach.brokerHost,
                                port("--broker-port", brokerPort == null ? usual : brokerPort),
                                identity);
        if (data.database() != null) {
            config = config.withDatabase(data.database());
        }
        if (broker != null) {
            config = withBroker(config, broker);
        }
        return group == null ? config : config.inGroup(checkedGroup());
    }

    private String checkedGroup() {
        if (!group.matches("[A-Za-z0-9-]{1,32}")) {
            throw new BadInput(
                    "--group reads '"
                            + group
                            + "', expected 1 to 32 of the characters A-Z a-z 0-9 -");
        }
        if (broker == null || data.database() == null) {
            throw new BadInput(
                    "--group shares one broker and one database between stations: name both, with"
                            + " --broker mqtt://HOST and --database jdbc:postgresql://HOST/NAME");
        }
        return group;
    }

    private static int port(String option, int port) {
        if (port < 0 || port > 65_535) {
            throw new BadInput(option + " is " + port + ", expected 0 to 65535");
        }
        return port;
    }

    private StationConfig withBroker(StationConfig config, String address) {
        try {
            URI uri = new URI(address);
            String user = uri.getUserInfo();
            if (user != null && user.contains(":")) {
                throw new BadInput(
                        "--broker holds a password, which every user of this machine can read; write"
                                + " it into a file and name that with --broker-password-file");
            }
            URI bare =
                    new URI(uri.getScheme(), null, uri.getHost(), uri.getPort(), null, null, null);
            return config.withBroker(bare, user, user == null ? null : password(), brokerTrust);
        } catch (URISyntaxException e) {
            throw new BadInput(
                    "--broker is no address ("
                            + e.getReason()
                            + "), expected mqtt://HOST:PORT or mqtts://HOST:PORT");
        }
    }

    private String password() {
        if (brokerPasswordFile == null) {
            return "";
        }
        try {
            return Files.readString(brokerPasswordFile).strip();
        } catch (IOException e) {
            throw new BadInput("--broker-password-file cannot be read: " + e);
        }
    }
}
