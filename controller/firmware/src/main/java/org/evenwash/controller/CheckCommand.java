package org.evenwash.controller;

import java.util.concurrent.Callable;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.MistakenFile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Checks settings and wiring of a bench. */
@Command(
        name = "check",
        description = "Checks the settings of this bench.",
        mixinStandardHelpOptions = true)
final class CheckCommand implements Callable<Integer> {
    @Spec private CommandSpec spec;
    @Mixin private ConfigOption config;

    @Override
    public Integer call() throws MistakenFile {
        Configuration read = config.read();
        spec.commandLine().getOut().println("Settings of bench " + read.benchId() + " are sound.");
        return 0;
    }
}
