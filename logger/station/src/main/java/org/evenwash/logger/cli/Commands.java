package org.evenwash.logger.cli;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Supplier;
import picocli.CommandLine;

/** The analyses, in the order in which the help lists them. Only the one that is asked for is made. */
final class Commands {
    static final Map<String, Supplier<Analysis>> ANALYSES = new LinkedHashMap<>();

    static {
        ANALYSES.put("infestation", InfestationCommand::new);
        ANALYSES.put("bee-count", BeeCountCommand::new);
        ANALYSES.put("recovery", RecoveryCommand::new);
        ANALYSES.put("agitation-time", AgitationTimeCommand::new);
        ANALYSES.put("operators", OperatorsCommand::new);
        ANALYSES.put("recounts", RecountsCommand::new);
        ANALYSES.put("bench-speed", BenchSpeedCommand::new);
        ANALYSES.put("apiary", ApiaryCommand::new);
        ANALYSES.put("colonies-to-wash", ColoniesToWashCommand::new);
        ANALYSES.put("efficacy", EfficacyCommand::new);
        ANALYSES.put("trend", TrendCommand::new);
        ANALYSES.put("spirit", SpiritCommand::new);
        ANALYSES.put("thresholds", ThresholdsCommand::new);
    }

    private Commands() {}

    static CommandLine analysis(String name) {
        Analysis analysis = ANALYSES.get(name).get();
        CommandLine line = new CommandLine(analysis);
        line.registerConverter(Double.class, new DecimalConverter());
        analysis.describe();
        return line;
    }
}
