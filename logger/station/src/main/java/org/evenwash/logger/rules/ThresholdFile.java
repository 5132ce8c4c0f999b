package org.evenwash.logger.rules;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.evenwash.analysis.protocol.Source;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Threshold.Unit;
import org.evenwash.logger.rules.YamlNodes.Fields;

/** Reads a file of thresholds; the format is explained at the top of the shipped one. */
final class ThresholdFile {
    private static final List<String> UNITS =
            Arrays.stream(Unit.values()).map(unit -> unit.name().toLowerCase(Locale.ROOT)).toList();

    private ThresholdFile() {}

    static Map<String, Threshold> read(String file, String text) throws RuleFileException {
        YamlNodes nodes = new YamlNodes(file);
        Map<String, Threshold> thresholds = new TreeMap<>();
        nodes.open(text)
                .ifPresent(
                        top -> {
                            top.allow(List.of("thresholds"));
                            top.fields("thresholds", "the thresholds, each by a short name")
                                    .ifPresent(all -> readAll(all, thresholds));
                        });
        nodes.refuseIfMistaken();
        return thresholds;
    }

    private static void readAll(Fields all, Map<String, Threshold> thresholds) {
        for (String id : all.keys()) {
            all.fields(id, "value, unit, region and source")
                    .flatMap(fields -> threshold(id, fields))
                    .ifPresent(threshold -> thresholds.put(id, threshold));
        }
    }

    private static Optional<Threshold> threshold(String id, Fields fields) {
        fields.allow(List.of("value", "unit", "phase", "region", "source"));
        OptionalDouble value = fields.number("value", "a number above 0");
        if (value.isPresent() && value.getAsDouble() <= 0) {
            fields.wrong("value", "a number above 0");
            value = OptionalDouble.empty();
        }
        Optional<String> unit = fields.oneOf("unit", UNITS);
        Optional<String> region = fields.word("region", "where it is meant for");
        String phase =
                fields.has("phase") ? fields.word("phase", "a phase or season").orElse("") : "";
        Optional<Source> source =
                fields.fields("source", "citation, edition and address")
                        .flatMap(SourceFields::read);
        if (value.isEmpty() || unit.isEmpty() || region.isEmpty() || source.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(
                new Threshold(
                        id,
                        value.getAsDouble(),
                        Unit.valueOf(unit.get().toUpperCase(Locale.ROOT)),
                        phase,
                        region.get(),
                        source.get()));
    }
}
