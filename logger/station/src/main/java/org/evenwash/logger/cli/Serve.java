package org.evenwash.logger.cli;

import io.javalin.util.JavalinBindException;
import java.io.PrintWriter;
import java.net.URI;
import java.net.URISyntaxException;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.web.WebServer;
import org.evenwash.logger.web.WebSettings;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

@Command(
        name = "serve",
        description = "Runs the station until it is stopped.",
        mixinStandardHelpOptions = true)
final class Serve implements Callable<Integer> {
    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Option(
            names = "--port",
            paramLabel = "PORT",
            description =
                    "Port of the pages, loopback only; 0 takes a free one. Default: ${DEFAULT-VALUE}",
            defaultValue = "8080")
    int port;

    @Option(
            names = "--broker-port",
            paramLabel = "PORT",
            description =
                    "Port of the embedded broker, loopback only; 0 takes a free one."
                            + " Default: ${DEFAULT-VALUE}",
            defaultValue = "" + StationConfig.BROKER_PORT)
    int brokerPort;

    @Option(
            names = "--broker",
            paramLabel = "URI",
            description = {
                "mqtt://[USER[:PASSWORD]@]HOST:PORT or mqtts://… of a broker that runs already;",
                "without it, the embedded one."
            })
    String broker;

    @Option(
            names = "--group",
            paramLabel = "NAME",
            description = "Several stations of one name share the intake over one database.")
    String group;

    @Override
    public Integer call() throws InterruptedException {
        StationConfig config = config();
        CountDownLatch asked = new CountDownLatch(1);
        CountDownLatch closed = new CountDownLatch(1);
        PrintWriter out = spec.commandLine().getOut();
        try (Station station = Station.start(config);
                WebServer pages = pages(station)) {
            Runtime.getRuntime().addShutdownHook(new Thread(() -> stop(asked, closed), "stop"));
            out.println("Data folder: " + config.data().toAbsolutePath());
            out.println("Benches connect to " + station.brokerAddress());
            out.println("Pages at " + pages.address());
            out.println("Stop with Ctrl-C.");
            out.flush();
            asked.await();
        } finally {
            closed.countDown();
        }
        return ExitCode.OK;
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

    private WebServer pages(Station station) {
        try {
            return WebServer.start(station, WebSettings.loopback(port("--port", port)));
        } catch (JavalinBindException e) {
            throw new BadInput(
                    "port " + port + " is busy; choose another with --port, or 0 for a free one");
        }
    }

    private StationConfig config() {
        StationConfig config =
                StationConfig.inFolder(data.folder).onBrokerPort(port("--broker-port", brokerPort));
        if (data.url != null) {
            config = config.withDatabase(data.url);
        }
        if (broker != null) {
            config = withBroker(config, broker);
        }
        return group == null ? config : config.inGroup(group);
    }

    private static int port(String option, int port) {
        if (port < 0 || port > 65_535) {
            throw new BadInput(option + " is " + port + ", expected 0 to 65535");
        }
        return port;
    }

    private static StationConfig withBroker(StationConfig config, String address) {
        try {
            URI uri = new URI(address);
            String user = uri.getUserInfo();
            int colon = user == null ? -1 : user.indexOf(':');
            URI bare =
                    new URI(uri.getScheme(), null, uri.getHost(), uri.getPort(), null, null, null);
            return config.withBroker(
                    bare,
                    colon < 0 ? user : user.substring(0, colon),
                    colon < 0 ? "" : user.substring(colon + 1));
        } catch (URISyntaxException e) {
            throw new BadInput(
                    "--broker is no address ("
                            + e.getReason()
                            + "), expected mqtt://HOST:PORT or mqtts://HOST:PORT");
        }
    }
}
