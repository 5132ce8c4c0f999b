package org.evenwash.logger.cli;

import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.protocol.Source;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.rules.RuleFileException;
import org.evenwash.logger.rules.Rules;
import picocli.CommandLine.Option;

/** The threshold that a person chose. None is ever chosen for them. */
final class ThresholdChoice {
    private static final String OWN = "own";

    @Option(
            names = "--threshold",
            paramLabel = "ID",
            description =
                    "Threshold to compare with: the id of a published one (thresholds lists them), or"
                            + " your own number in mites per 100 bees.")
    private String chosen;

    @Option(
            names = "--threshold-file",
            paramLabel = "FILE",
            description = "A file of your own thresholds (YAML), beside the published ones.")
    private Path file;

    /** Empty if none was chosen. */
    Optional<Threshold> threshold() {
        return Optional.ofNullable(chosen).map(this::named);
    }

    /** The chosen one in mites per 100 bees; one in other units is refused, with its unit. */
    Optional<Threshold> per100() {
        Optional<Threshold> threshold = threshold();
        threshold
                .filter(t -> t.per100Bees().isEmpty())
                .ifPresent(
                        t -> {
                            throw new BadInput(
                                    "--threshold "
                                            + t.id()
                                            + " is in "
                                            + t.unit().words()
                                            + "; a wash cannot be compared with it. Choose one in"
                                            + " mites per 100 or per 300 bees.");
                        });
        return threshold;
    }

    private Threshold named(String id) {
        OptionalDouble number = Decimals.read(id);
        if (number.isPresent()) {
            return own(number.getAsDouble());
        }
        Map<String, Threshold> known = new LinkedHashMap<>(Rules.shippedThresholds());
        if (file != null) {
            known.putAll(fromFile());
        }
        Threshold threshold = known.get(id);
        if (threshold == null) {
            throw new BadInput(
                    "There is no threshold \""
                            + id
                            + "\". Known are "
                            + String.join(", ", known.keySet())
                            + "; or give your own number in mites per 100 bees.");
        }
        return threshold;
    }

    private static Threshold own(double per100) {
        if (!(per100 > 0 && per100 <= 1000)) {
            throw new BadInput(
                    "--threshold "
                            + Decimals.plain(per100)
                            + ": expected mites per 100 bees, above 0 and at most 1000.");
        }
        return new Threshold(
                OWN,
                per100,
                Threshold.Unit.PER_100_BEES,
                "",
                "as you chose",
                new Source("your own number", "given on the command line", ""));
    }

    private Map<String, Threshold> fromFile() {
        try {
            return Rules.ownThresholds(file);
        } catch (RuleFileException mistaken) {
            throw new BadInput(mistaken.getMessage(), mistaken);
        } catch (UncheckedIOException unreadable) {
            throw new BadInput(
                    "The threshold file " + file + " cannot be read; check the name.", unreadable);
        }
    }

    /** One line that says what was compared with, and whose number it is. */
    static String words(Threshold threshold) {
        if (threshold.id().equals(OWN)) {
            return Decimals.plain(threshold.value()) + " mites per 100 bees, your own number";
        }
        return threshold.id()
                + ", "
                + Decimals.plain(threshold.value())
                + " "
                + threshold.unit().words()
                + ", "
                + threshold.region()
                + (threshold.phase().isEmpty() ? "" : ", " + threshold.phase())
                + ". Source: "
                + threshold.source()
                + (threshold.source().address().isEmpty()
                        ? "."
                        : ", " + threshold.source().address() + ".");
    }

    static Map<String, Object> json(Threshold threshold) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("id", threshold.id());
        json.put("value", threshold.value());
        json.put("unit", threshold.unit().words());
        json.put("phase", threshold.phase());
        json.put("region", threshold.region());
        json.put("source", threshold.source().toString());
        json.put("address", threshold.source().address());
        return json;
    }
}
