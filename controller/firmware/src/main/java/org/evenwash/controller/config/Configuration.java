package org.evenwash.controller.config;

import java.nio.file.Path;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Sensor;
import org.evenwash.controller.process.Settings;

/**
 * All that a person settles about one bench, checked as a whole by {@link ConfigurationFile}.
 *
 * @param benchId 1 to 32 of the characters a-z 0-9 -
 * @param settings what the process machine obeys
 * @param recipe run when there is no ticket
 * @param recipes all that may be chosen at the panel
 */
public record Configuration(
        String benchId,
        Path dataFolder,
        Settings settings,
        Recipe recipe,
        List<Recipe> recipes,
        Broker broker,
        Keeping keeping,
        int pulsesPerRevolution,
        Pins pins) {

    /**
     * Where the logger listens.
     *
     * @param passwordFile read anew at each connection, so that it can be changed while running
     * @param caFile certificate of a private authority; empty: those of the system
     */
    public record Broker(
            String host,
            int port,
            String user,
            Optional<Path> passwordFile,
            boolean tls,
            Optional<Path> caFile) {

        /** A broker without log-in, as on loopback. */
        public static Broker plain(String host, int port) {
            return new Broker(host, port, "", Optional.empty(), false, Optional.empty());
        }
    }

    /**
     * What the outbox keeps.
     *
     * @param released_days the newest thousand released records are kept for longer
     * @param mostUnsent records without a receipt, 1 to 1,000,000
     * @param leastFree_bytes of storage, below which no cycle begins
     */
    public record Keeping(int released_days, int mostUnsent, long leastFree_bytes) {}

    public Configuration {
        recipes = List.copyOf(recipes);
    }

    /** The same bench with every sensor there is, as the simulated one has them. */
    public Configuration withEverySensor() {
        return new Configuration(
                benchId,
                dataFolder,
                settings.with(EnumSet.allOf(Sensor.class)),
                recipe,
                recipes,
                broker,
                keeping,
                pulsesPerRevolution,
                pins);
    }

    /** The same settings for a bench of another name. */
    public Configuration named(String otherBenchId) {
        return new Configuration(
                otherBenchId,
                dataFolder,
                settings,
                recipe,
                recipes,
                broker,
                keeping,
                pulsesPerRevolution,
                pins);
    }

    /** The same bench with another data folder and broker. */
    public Configuration at(Path otherFolder, Broker otherBroker) {
        return new Configuration(
                benchId,
                otherFolder,
                settings,
                recipe,
                recipes,
                otherBroker,
                keeping,
                pulsesPerRevolution,
                pins);
    }
}
