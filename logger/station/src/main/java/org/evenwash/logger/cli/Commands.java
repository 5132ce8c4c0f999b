package org.evenwash.logger.cli;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.Stream;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The commands by name; only the one that is asked for is made. */
final class Commands {
    /** In the order in which the help lists them. */
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

    /** The command of that name; empty where there is none, or where it has to know all the others. */
    static Optional<CommandLine> made(String name) {
        return ANALYSES.containsKey(name)
                ? Optional.of(analysis(name))
                : Stream.of(Main.class.getAnnotation(Command.class).subcommands())
                        .filter(one -> one.getPackage() == Commands.class.getPackage())
                        .filter(one -> one.getAnnotation(Command.class).name().equals(name))
                        .map(one -> new CommandLine(one).setUsageHelpWidth(Main.HELP_WIDTH))
                        .findFirst();
    }

    static CommandLine analysis(String name) {
        Analysis analysis = ANALYSES.get(name).get();
        CommandLine line = new CommandLine(analysis);
        line.registerConverter(Double.class, new DecimalConverter());
        analysis.describe();
        return line;
    }
}
