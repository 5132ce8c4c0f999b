package org.evenwash.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.Station;
import org.evenwash.logger.StationConfig;
import org.evenwash.logger.StationTrouble;
import org.evenwash.logger.broker.BrokerTrouble;
import org.evenwash.logger.store.DatabaseTrouble;
import org.evenwash.logger.web.WebServer;
import org.evenwash.logger.web.WebSettings;

/** The logger's station and its pages in a process of its own, whose wall clock can be stepped by writing a file. */
final class SteppedLogger {
    private SteppedLogger() {}

    /**
     * @param clock holds by how many seconds the clock is off
     * @param serve arguments as of the {@code serve} command
     */
    static Program program(Path clock, List<String> serve) {
        List<String> command = new ArrayList<>(Program.java());
        command.addAll(
                List.of(
                        "-cp",
                        System.getProperty("java.class.path"),
                        SteppedLogger.class.getName(),
                        clock.toString()));
        command.addAll(serve.subList(1, serve.size()));
        return Program.start("logger with a stepped clock", command);
    }

    private static final class OffBy extends Clock {
        private final Path file;

        OffBy(Path file) {
            this.file = file;
        }

        @Override
        public Instant instant() {
            try {
                return Instant.now().plusSeconds(Long.parseLong(Files.readString(file).strip()));
            } catch (IOException e) {
                throw new UncheckedIOException("cannot read " + file, e);
            }
        }

        @Override
        public ZoneId getZone() {
            return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
            throw new UnsupportedOperationException("the station's clock is always UTC");
        }
    }

    public static void main(String[] arguments) {
        Path clock = Path.of(arguments[0]);
        StationConfig config = StationConfig.inFolder(Path.of(arguments[2]));
        config =
                arguments[3].equals("--broker")
                        ? config.withBroker(URI.create(arguments[4]), null, null)
                        : config.onBrokerPort(Integer.parseInt(arguments[4]));
        try (Station station = Station.start(config, new OffBy(clock));
                WebServer pages = WebServer.start(station, WebSettings.loopback(0))) {
            System.out.println("Benches connect to " + station.brokerAddress());
            System.out.println(Yard.PAGES + pages.address());
            // As `serve` does.
            System.out.println("The logger ends: " + station.brokerSelfStop().join().getMessage());
            Runtime.getRuntime().halt(Yard.BROKER_STOPPED);
        } catch (StationTrouble | DatabaseTrouble | BrokerTrouble e) {
            System.out.println(e.getMessage());
            System.exit(1);
        }
    }
}
