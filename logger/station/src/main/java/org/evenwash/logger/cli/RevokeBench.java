package org.evenwash.logger.cli;

import java.io.PrintWriter;
import java.time.Clock;
import java.util.concurrent.Callable;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "revoke-bench",
        description = {
            "Shuts a bench out, such as one that was stolen.",
            "Its password is void, and a running logger's embedded broker cuts its connection within a",
            "few seconds. What it sent stays.",
            "With an outside broker, write its files anew afterwards with 'broker-files'."
        },
        mixinStandardHelpOptions = true)
final class RevokeBench implements Callable<Integer> {
    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(paramLabel = "ID", description = "As it was admitted.")
    String id;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        try (Database database = data.open()) {
            boolean had =
                    Workplace.over(database, new NoLink(), Clock.systemUTC())
                            .benches()
                            .revoke(id, By.nobody());
            out.println(
                    had
                            ? "Bench " + id + " is shut out. 'admit-bench' lets it in again."
                            : "Bench " + id + " had no password, so it was shut out already.");
            out.flush();
        }
        return ExitCode.RESULT;
    }
}
