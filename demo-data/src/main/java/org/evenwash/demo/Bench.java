package org.evenwash.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.evenwash.controller.SimulatedController;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.ConfigurationFile;
import org.evenwash.controller.store.OutboxRefused;
import org.evenwash.logger.Station;
import org.evenwash.logger.wash.By;

/** The demo's one bench, let in at the logger as any bench is. */
final class Bench {
    static final String ID = "stillwater-1";

    /**
     * The bench's clock runs ahead of ours while it washes: it begins early, so that the day is over by now. Washes and
     * calibration took 109 minutes of its time when measured, on a computer that was very busy.
     */
    private static final Duration LENGTH_OF_THE_DAY = Duration.ofHours(3);

    private Bench() {}

    static SimulatedController start(Station station, Path folder, double speed)
            throws IOException, OutboxRefused {
        String password =
                station.workplace().benches().admit(ID, "Bench in the shed", true, By.nobody());
        Files.createDirectories(folder);
        Path passwordFile = Files.writeString(folder.resolve("password"), password);
        Configuration shipped = ConfigurationFile.shipped();
        Configuration.Broker broker =
                new Configuration.Broker(
                        "127.0.0.1",
                        station.brokerPort(),
                        ID,
                        Optional.of(passwordFile),
                        false,
                        Optional.empty());
        Configuration config = shipped.named(ID).at(folder, broker);
        Instant dayBegan = Instant.now().minus(LENGTH_OF_THE_DAY);
        return SimulatedController.start(
                config, SimulatedController.Play.faster(speed).startingAt(dayBegan));
    }
}
