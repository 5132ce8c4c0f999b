package org.evenwash.logger.cli;

/** placeholder until merged */
public final class Main {
    private Main() {}
    public static void main(String[] args) {
        var l = Commands.analysis(args[0]);
        l.setExecutionExceptionHandler((e, c, p) -> { if (e instanceof BadInput || e instanceof IllegalArgumentException) { c.getErr().println(e.getMessage()); return 2; } throw e; });
        System.exit(l.execute(java.util.Arrays.copyOfRange(args, 1, args.length)));
    }
}
