package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Finds the columns of a command in the heading of a file, by exact name. */
final class Headings {
    private Headings() {}

    /**
     * The place of every column that is there, by our names.
     *
     * @throws BadInput with everything that is missing, doubled or misspelt
     */
    static Map<String, Integer> places(
            String file, List<String> headings, List<Column> columns, Map<String, String> theirs) {
        List<String> mistakes = new ArrayList<>();
        for (String ours : theirs.keySet()) {
            if (columns.stream().noneMatch(column -> column.name().equals(ours))) {
                mistakes.add(
                        "--column "
                                + ours
                                + "="
                                + theirs.get(ours)
                                + ": this command has no column "
                                + ours
                                + "; it has "
                                + String.join(", ", columns.stream().map(Column::name).toList())
                                + ".");
            }
        }
        Map<String, Integer> places = new HashMap<>();
        for (Column column : columns) {
            String wanted = theirs.getOrDefault(column.name(), column.name());
            int place = headings.indexOf(wanted);
            if (place < 0 && (column.required() || theirs.containsKey(column.name()))) {
                mistakes.add(missing(file, headings, column, wanted));
            } else if (place >= 0 && headings.lastIndexOf(wanted) != place) {
                mistakes.add(
                        file
                                + ", line 1: two columns are called \""
                                + wanted
                                + "\"; rename one, so that it is plain which is meant.");
            } else if (place >= 0) {
                places.put(column.name(), place);
            }
        }
        if (!mistakes.isEmpty()) {
            throw new BadInput(String.join("\n", mistakes));
        }
        return places;
    }

    private static String missing(
            String file, List<String> headings, Column column, String wanted) {
        String start =
                file + ", line 1: there is no column \"" + wanted + "\" (" + column.holds() + "). ";
        for (String heading : headings) {
            if (heading.equalsIgnoreCase(wanted)) {
                return start
                        + "Did you mean "
                        + heading
                        + "? Say "
                        + mapping(column, heading)
                        + ".";
            }
        }
        return start
                + "The file has "
                + String.join(", ", headings)
                + ". If one of them holds it, say "
                + mapping(column, "THEIRS")
                + ".";
    }

    private static String mapping(Column column, String heading) {
        String option = column.name() + "=" + heading;
        return "--column " + (option.contains(" ") ? "\"" + option + "\"" : option);
    }
}
