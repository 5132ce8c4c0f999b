package org.evenwash.controller;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.evenwash.controller.config.Configuration;
import org.evenwash.controller.config.MistakenFile;
import org.evenwash.controller.process.Bout;
import org.evenwash.controller.process.Recipe;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Lists what this bench can run. */
@Command(
        name = "recipes",
        description = "Lists the recipes of this bench. None is the best one: second washes tell.",
        mixinStandardHelpOptions = true)
final class RecipesCommand implements Callable<Integer> {
    @Spec private CommandSpec spec;
    @Mixin private ConfigOption config;

    @Override
    public Integer call() throws MistakenFile {
        Configuration read = config.read();
        PrintWriter out = spec.commandLine().getOut();
        for (Recipe recipe : read.recipes()) {
            String mark = recipe.equals(read.recipe()) ? "*" : " ";
            out.printf(
                    "%s %s  %s, version %d%n", mark, recipe.id(), recipe.name(), recipe.version());
            for (Bout bout : recipe.bouts()) {
                out.printf(
                        Locale.ROOT,
                        "      %.1f s at %.0f rpm%s, ramps %.1f s, then rest %.1f s%n",
                        ContractTranslation.seconds(bout.agitation()),
                        bout.speed_rpm(),
                        bout.reverse() ? " reversed" : "",
                        ContractTranslation.seconds(bout.ramp()),
                        ContractTranslation.seconds(bout.rest()));
            }
            if (recipe.repeats() > 1) {
                out.printf("      all of it %d times%n", recipe.repeats());
            }
        }
        out.println("* runs when there is no ticket");
        out.flush();
        return 0;
    }
}
