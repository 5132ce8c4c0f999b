package org.evenwash.logger.rules;

/**
 * One thing wrong in a rule file.
 *
 * @param line from 1
 * @param key where in the file, "points.bees.least"; empty for the file as a whole
 * @param value what stands there; empty if nothing does
 * @param expected what should stand there, as a person would say it
 */
public record Mistake(String file, int line, String key, String value, String expected) {
    @Override
    public String toString() {
        String what =
                value.isEmpty() ? (key.isEmpty() ? "" : key + " is missing; ") : said() + "; ";
        return file + ", line " + line + ": " + what + "expected " + expected;
    }

    private String said() {
        return (key.isEmpty() ? "found" : key + " is") + " \"" + value + "\"";
    }
}
