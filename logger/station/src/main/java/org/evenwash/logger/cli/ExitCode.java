package org.evenwash.logger.cli;

import java.util.LinkedHashMap;
import java.util.Map;
import picocli.CommandLine;

/** How a command ends, for scripts; the help of every command lists those that it can end with. */
final class ExitCode {
    static final int RESULT = 0;
    static final int SURROUNDINGS = 1;
    static final int WRONG_INPUT = 2;

    /** Of analyses alone. */
    static final int NOT_ENOUGH_DATA = 3;

    /** Of {@code serve} alone: a service manager starts it again. */
    static final int BROKER_STOPPED = 4;

    private ExitCode() {}

    /** Puts the list into the help of a command and of all below it; that of the program has every code. */
    static void describe(CommandLine command) {
        Object made = command.getCommandSpec().userObject();
        boolean whole = command.getParent() == null;
        Map<String, String> codes = new LinkedHashMap<>();
        codes.put(String.valueOf(RESULT), made instanceof Analysis ? "a result" : "done");
        codes.put(
                String.valueOf(SURROUNDINGS),
                "the surroundings failed, or a defect of this program");
        codes.put(
                String.valueOf(WRONG_INPUT), "wrong input: the message says where and what to do");
        if (whole || made instanceof Analysis) {
            codes.put(
                    String.valueOf(NOT_ENOUGH_DATA),
                    "not enough data: the output says what is needed");
        }
        if (whole || made instanceof Serve) {
            codes.put(
                    String.valueOf(BROKER_STOPPED),
                    "the embedded broker stopped by itself: the message says what to do");
        }
        command.getCommandSpec()
                .usageMessage()
                .exitCodeListHeading("%nExit codes:%n")
                .exitCodeList(codes);
        command.getSubcommands().values().forEach(ExitCode::describe);
    }
}
