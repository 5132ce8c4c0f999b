package org.evenwash.logger.cli;

/** How a command ends, for scripts; the help of every command prints this list. */
final class ExitCode {
    static final int RESULT = 0;
    static final int SURROUNDINGS = 1;
    static final int WRONG_INPUT = 2;
    static final int NOT_ENOUGH_DATA = 3;

    /** Of {@code serve} alone: a service manager starts it again. */
    static final int BROKER_STOPPED = 4;

    static final String HELP =
            """

            Exit codes:
              0  a result
              1  the surroundings failed, or a defect of this program
              2  wrong input: the message says where and what to do
              3  not enough data: the output says what is needed
            """;

    private ExitCode() {}
}
