package org.evenwash.logger.cli;

import java.io.PrintWriter;
import java.io.StringWriter;
import picocli.CommandLine;

/** A command as a shell would run it. */
public record Run(int exit, String out, String err) {
    /** The output without its line breaks, to look for sentences in. */
    public String words() {
        return out.replaceAll("\\s+", " ");
    }

    public static Run of(String... args) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        CommandLine command =
                Main.commandLine(args).setOut(new PrintWriter(out)).setErr(new PrintWriter(err));
        int exit = command.execute(args);
        return new Run(exit, out.toString(), err.toString());
    }
}
