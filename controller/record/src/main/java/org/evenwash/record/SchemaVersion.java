package org.evenwash.record;

import java.util.regex.Pattern;

/**
 * The {@code schema} field: a kind and a version, such as {@code cycle/1.0}. A reader takes any
 * minor version of a major version it knows, and ignores fields that it does not know.
 */
final class SchemaVersion {
    static final int MAJOR = 1;
    private static final Pattern VERSION = Pattern.compile("[0-9]{1,6}\\.[0-9]{1,6}");

    private SchemaVersion() {}

    /** Checks that {@code schema} names {@code kind} in a major version known here. */
    static String check(String schema, String kind) {
        Check.present("schema", schema);
        String[] parts = schema.split("/", -1);
        if (parts.length != 2 || !VERSION.matcher(parts[1]).matches()) {
            throw new ContractViolation(
                    "schema", "reads '" + Check.shown(schema) + "', expected " + kind + "/1.0");
        }
        if (!parts[0].equals(kind)) {
            throw new ContractViolation(
                    "schema", "names a '" + Check.shown(parts[0]) + "', expected a '" + kind + "'");
        }
        int major = Integer.parseInt(parts[1].substring(0, parts[1].indexOf('.')));
        if (major != MAJOR) {
            throw new ContractViolation(
                    "schema",
                    "is major version "
                            + major
                            + ", only "
                            + MAJOR
                            + " is known here: update the receiving program");
        }
        return schema;
    }
}
