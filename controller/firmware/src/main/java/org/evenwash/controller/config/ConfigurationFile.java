package org.evenwash.controller.config;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import org.evenwash.controller.config.Configuration.Broker;
import org.evenwash.controller.config.Configuration.Keeping;
import org.evenwash.controller.config.Pins.InputName;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Sensor;
import org.evenwash.controller.process.Settings;

/** The one commented YAML file in which a bench is described. */
public final class ConfigurationFile {
    /** By spelling alone: reading a file asks no name server. */
    private static final Pattern LOOPBACK =
            Pattern.compile("localhost|127(\\.[0-9]{1,3}){3}|::1", Pattern.CASE_INSENSITIVE);

    private static final String SHIPPED = "evenwash-controller.yaml";
    private static final int SCAN_PERIOD_MS = 10;

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
        int jarPositions = bench.whole("jarPositions", 1, 8);
        Path dataFolder = folder.resolve(bench.text("dataFolder", ".+", "the path of a folder"));
        Broker broker = broker(section(root, "broker"), folder);
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
            recipes.addAll(RecipesFile.read(ownRecipes, settings.maxSpeed_rpm(), mistakes));
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
        Section safety = section(root, "safety");
        Section limits = section(root, "limits");
        Section jars = section(root, "jars");
        double fastest_rpm = limits.number("fastest_rpm", 10, 3_000);
        return new Settings(
                jarPositions,
                fitted(pins),
                fastest_rpm,
                speed.number("fullDrive_rpm", fastest_rpm, 6_000),
                Duration.ofMillis(SCAN_PERIOD_MS),
                Duration.ofMillis(safety.whole("overrunLimit_ms", 2 * SCAN_PERIOD_MS, 5_000)),
                duration(limits.number("longestCycle_min", 1, 240), 60),
                duration(limits.number("longestStopRamp_s", 0, 5), 1),
                limits.number("motorHottest_C", 30, 140),
                safety.number("flashPointMargin_K", 0, 30),
                safety.number("cautiousFlashPoint_C", 0, 60),
                safety.choice("nearFlashPoint", NearFlashPoint.class) == NearFlashPoint.REFUSE,
                limits.number("supplyLowest_V", 1, 60),
                limits.number("currentMost_A", 0.1, 100),
                duration(safety.number("cautionsHold_h", 0.1, 12), 3_600),
                safety.whole("proofTestEvery_cycles", 1, 10_000),
                safety.whole("proofTestEvery_days", 1, 366),
                duration(jars.number("remindAfter_min", 0.2, 60), 60),
                duration(jars.number("soakLimit_min", 0.2, 1_440), 60));
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
        boolean meant = section.yesNo("passwordInClear");
        if (!tls && !user.isEmpty() && !meant && !LOOPBACK.matcher(host).matches()) {
            section.mistake(
                    "tls",
                    "is false, and the password would travel to " + host + " in clear",
                    "Write tls: true and caFile with the logger's trust.pem; on a line that nobody"
                            + " else can reach, passwordInClear: true");
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

    private static Duration duration(double number, double unit_s) {
        return Duration.ofMillis(Math.round(number * unit_s * 1_000));
    }
}
