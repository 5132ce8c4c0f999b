package org.evenwash.logger.cli;

/**
 * A column that a command reads.
 *
 * @param name what it is called unless {@code --column} says otherwise; a unit comes last
 * @param required whether the file must have it
 * @param holds what stands in it, for the help and for messages
 */
record Column(String name, boolean required, String holds) {
    static Column required(String name, String holds) {
        return new Column(name, true, holds);
    }

    static Column optional(String name, String holds) {
        return new Column(name, false, holds);
    }

    String help() {
        return String.format("  %-24s %s%s", name, required ? "" : "(optional) ", holds);
    }
}
