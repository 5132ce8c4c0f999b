package org.evenwash.controller.config;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import org.evenwash.controller.config.Configuration.Broker;
import org.evenwash.controller.config.Configuration.Keeping;
import org.evenwash.controller.config.Pins.InputName;
import org.evenwash.controller.process.Range;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Sensor;
import org.evenwash.controller.process.Settings;
import org.evenwash.controller.process.Settings.Jars;
import org.evenwash.controller.process.Settings.Limits;
import org.evenwash.controller.process.Settings.Safety;

/** The one commented YAML file in which a bench is described. */
public final class ConfigurationFile {
    /** By spelling alone: reading a file asks no name server. */
    private static final Pattern LOOPBACK =
            Pattern.compile("localhost|127(\\.[0-9]{1,3}){3}|::1", Pattern.CASE_INSENSITIVE);

    private static final String WRITE_TLS =
            "write tls: true, caFile with the logger's trust.pem, and the port on which it speaks"
                    + " mqtts, usually 8883";

    private static final String SHIPPED = "evenwash-controller.yaml";
    private static final Duration SCAN_PERIOD = Duration.ofMillis(10);
    private static final Duration SECOND = Duration.ofSeconds(1);
    private static final Duration MINUTE = Duration.ofMinutes(1);
    private static final Duration HOUR = Duration.ofHours(1);

    private static final Set<Sensor> FLASH_POINT_SENSORS =
            Set.of(Sensor.SPIRIT_TEMPERATURE, Sensor.AMBIENT_TEMPERATURE);

    /** What to do when spirit or room are near the flash point. */
    enum NearFlashPoint {
        ACKNOWLEDGE,
        REFUSE
    }

    private ConfigurationFile() {}

    /** The shipped file, comments and all. */
    public static String shippedText() {
        return YamlFile.shipped(SHIPPED);
    }

    /** What applies without a file of one's own. */
    public static Configuration shipped() {
        try {
            return read("the shipped settings", "", Path.of(""));
        } catch (MistakenFile e) {
            throw new IllegalStateException("the shipped settings are wrong", e);
        }
    }

    /**
     * Reads a file and all that it names.
     *
     * @throws MistakenFile with every mistake in it
     */
    public static Configuration read(Path file) throws MistakenFile {
        Path folder = file.toAbsolutePath().getParent();
        return read(file.toString(), YamlFile.text(file), folder);
    }

    /**
     * Reads settings from a text.
     *
     * @param name how mistakes name the text
     * @param folder against which relative paths in it are resolved
     */
    public static Configuration read(String name, String text, Path folder) throws MistakenFile {
        Mistakes mistakes = new Mistakes(name);
        Section shipped = new Section("", YamlFile.nodes(shippedText(), mistakes), null, mistakes);
        Section root = new Section("", YamlFile.nodes(text, mistakes), shipped, mistakes);
        mistakes.throwIfAny();
        Configuration configuration = configuration(root, folder, mistakes);
        mistakes.throwIfAny();
        return configuration;
    }

    private static Configuration configuration(Section root, Path folder, Mistakes mistakes) {
        root.allowOnlyShipped();
        Section bench = section(root, "bench");
        String benchId = bench.text("id", "[a-z0-9-]{1,32}", "1 to 32 of the characters a-z 0-9 -");
        int jarPositions = bench.whole("jarPositions", Settings.POSITIONS);
        Path dataFolder = folder.resolve(bench.text("dataFolder", ".+", "the path of a folder"));
        Broker broker = broker(root.section("broker"), folder);
        Section speed = section(root, "speed");
        Keeping keeping = keeping(section(root, "outbox"));
        Pins pins = new PinsReader().read(root.section("pins"), jarPositions);
        Settings settings = settings(root, jarPositions, speed, pins);
        if (mistakes.none()) {
            // Ranges of single values are checked where they stand; this finds what contradicts.
            for (String mistake : settings.mistakes()) {
                mistakes.add(0, mistake, "Change one of the values concerned");
            }
        }
        List<Recipe> recipes = new ArrayList<>(RecipesFile.shipped());
        Path ownRecipes = file(bench, "recipesFile", folder).orElse(null);
        if (ownRecipes != null && Files.isRegularFile(ownRecipes)) {
            recipes.addAll(RecipesFile.read(ownRecipes, settings.limits().fastest_rpm(), mistakes));
        }
        return new Configuration(
                benchId,
                dataFolder,
                settings,
                chosen(bench, recipes),
                recipes,
                broker,
                keeping,
                speed.whole("pulsesPerRevolution", 1, 10_000),
                pins);
    }

    private static Settings settings(Section root, int jarPositions, Section speed, Pins pins) {
        Limits limits = limits(section(root, "limits"));
        return new Settings(
                jarPositions,
                fitted(pins),
                SCAN_PERIOD,
                safety(section(root, "safety"), fitted(pins)),
                limits,
                speed.number("fullDrive_rpm", Settings.fullDrive_rpm(limits.fastest_rpm())),
                jars(section(root, "jars")));
    }

    private static Safety safety(Section section, Set<Sensor> fitted) {
        String oneShot =
                "the one-shot in the stop chain may open after %d ms, and the controller has to notice first"
                        .formatted(Safety.ONE_SHOT_SHORTEST_MS);
        Range overrun_ms = Safety.overrunLimit_ms(SCAN_PERIOD);
        Safety safety =
                new Safety(
                        Duration.ofMillis(section.whole("overrunLimit_ms", overrun_ms, oneShot)),
                        section.number("cautiousFlashPoint_C", Safety.CAUTIOUS_FLASH_POINT_C),
                        section.number("flashPointMargin_K", Safety.FLASH_POINT_MARGIN_K),
                        section.choice("nearFlashPoint", NearFlashPoint.class)
                                == NearFlashPoint.REFUSE,
                        section.duration("cautionsHold_h", HOUR, Safety.CAUTIONS_HOLD_S),
                        Duration.ofDays(
                                section.whole("proofTestEvery_days", Safety.PROOF_TEST_EVERY_DAYS)),
                        section.whole("proofTestEvery_cycles", Safety.PROOF_TEST_EVERY_CYCLES));
        if (safety.refuseWarmSpirit() && Collections.disjoint(fitted, FLASH_POINT_SENSORS)) {
            section.mistake(
                    "nearFlashPoint",
                    "is refuse, and neither spirit nor room has a thermometer: unseen they count as"
                            + " near the flash point, so no start would ever be possible",
                    "Give pins.temperatures the id of one; or, where local codes allow it, write"
                            + " acknowledge");
        }
        return safety;
    }

    private static Limits limits(Section section) {
        return new Limits(
                section.number("fastest_rpm", Limits.FASTEST_RPM),
                section.duration("longestCycle_min", MINUTE, Limits.LONGEST_CYCLE_S),
                section.duration("longestStopRamp_s", SECOND, Limits.LONGEST_STOP_RAMP_S),
                section.number("motorHottest_C", Limits.MOTOR_HOTTEST_C),
                section.number("supplyLowest_V", Limits.SUPPLY_LOWEST_V),
                section.number("currentMost_A", Limits.CURRENT_MOST_A));
    }

    private static Jars jars(Section section) {
        return new Jars(
                section.duration("remindAfter_min", MINUTE, Jars.REMIND_AFTER_S),
                section.duration("soakLimit_min", MINUTE, Jars.SOAK_LIMIT_S));
    }

    /** What is wired is what is watched. */
    private static Set<Sensor> fitted(Pins pins) {
        Set<Sensor> fitted = EnumSet.copyOf(Settings.REQUIRED);
        if (pins.inputs().containsKey(InputName.GUARD)) {
            fitted.add(Sensor.GUARD);
        }
        if (pins.inputs().containsKey(InputName.DRIVER)) {
            fitted.add(Sensor.DRIVER);
        }
        pins.temperatures().motor().ifPresent(id -> fitted.add(Sensor.MOTOR_TEMPERATURE));
        pins.temperatures().spirit().ifPresent(id -> fitted.add(Sensor.SPIRIT_TEMPERATURE));
        pins.temperatures().ambient().ifPresent(id -> fitted.add(Sensor.AMBIENT_TEMPERATURE));
        if (pins.monitor().isPresent()) {
            fitted.add(Sensor.SUPPLY_VOLTAGE);
            fitted.add(Sensor.MOTOR_CURRENT);
        }
        return fitted;
    }

    private static Broker broker(Section section, Path folder) {
        section.noLonger(
                "passwordInClear",
                "is not taken any more: beyond this machine a password goes by TLS (mqtts) only",
                "Take the line out; where the broker is on another machine, " + WRITE_TLS);
        section.allowOnlyShipped();
        String user = section.text("user");
        Optional<Path> password = file(section, "passwordFile", folder);
        if (user.isEmpty() == password.isPresent()) {
            section.mistake(
                    user.isEmpty() ? "passwordFile" : "user",
                    "is given without the other half of the log-in",
                    "Give both user and passwordFile, or neither");
        }
        String host = section.text("host", "[A-Za-z0-9.:-]{1,253}", "a host name or address");
        boolean tls = section.yesNo("tls");
        if (!tls && !user.isEmpty() && !LOOPBACK.matcher(host).matches()) {
            section.mistake(
                    "tls",
                    "is false, and the password would travel to " + host + " in clear",
                    "To reach it, " + WRITE_TLS);
        }
        return new Broker(
                host,
                section.whole("port", 1, 65_535),
                user,
                password,
                tls,
                file(section, "caFile", folder));
    }

    private static Keeping keeping(Section section) {
        return new Keeping(
                section.whole("keepReleased_days", 1, 3_660),
                section.whole("mostUnsent", 10, 1_000_000),
                section.whole("leastFree_MB", 1, 100_000) * 1_000_000L);
    }

    private static Recipe chosen(Section bench, List<Recipe> recipes) {
        String id = bench.text("recipe");
        for (Recipe recipe : recipes) {
            if (recipe.id().equals(id)) {
                return recipe;
            }
        }
        List<String> known = recipes.stream().map(Recipe::id).toList();
        bench.mistake(
                "recipe",
                "names '" + id + "', and there is no such recipe",
                Spelling.nearest(id, known)
                        .map(near -> "Did you mean '" + near + "'?")
                        .orElse("Known: " + String.join(", ", known)));
        return recipes.get(0);
    }

    private static Section section(Section root, String key) {
        Section section = root.section(key);
        section.allowOnlyShipped();
        return section;
    }

    /** A file that must be there when it is named. */
    private static Optional<Path> file(Section section, String key, Path folder) {
        String written = section.text(key);
        if (written.isEmpty()) {
            return Optional.empty();
        }
        Path file = folder.resolve(written);
        if (!Files.isReadable(file) || Files.isDirectory(file)) {
            section.mistake(
                    key,
                    "names " + file + ", which is not a readable file",
                    "Correct the path, or let the controller's user read it");
        }
        return Optional.of(file);
    }
}
