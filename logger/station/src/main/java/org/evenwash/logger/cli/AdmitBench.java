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
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "admit-bench",
        description = {
            "Lets a bench use the embedded broker and prints its password, once.",
            "A bench that was admitted before gets a new one."
        },
        mixinStandardHelpOptions = true)
final class AdmitBench implements Callable<Integer> {
    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(paramLabel = "ID", description = "1 to 32 of the characters a-z 0-9 and -")
    String id;

    @Option(names = "--name", paramLabel = "NAME", description = "What people call it.")
    String name;

    @Option(names = "--simulated", description = "No real motor turns there.")
    boolean simulated;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        try (Database database = data.open()) {
            String password =
                    Workplace.over(database, new NoLink(), Clock.systemUTC())
                            .benches()
                            .admit(id, name == null ? id : name, simulated, By.nobody());
            out.println("Bench " + id + " may connect with the password " + password);
            out.println(
                    "Write it into the bench's configuration now: it is kept nowhere in clear.");
            out.flush();
        }
        return ExitCode.RESULT;
    }
}
