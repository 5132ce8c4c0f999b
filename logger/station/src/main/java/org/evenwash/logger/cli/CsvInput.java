package org.evenwash.logger.cli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Options for reading a CSV file. */
final class CsvInput {
    @Parameters(
            arity = "0..1",
            paramLabel = "FILE",
            description = "A CSV file, or - for standard input.")
    private String file;

    @Option(
            names = "--column",
            paramLabel = "NAME=THEIRS",
            description = "What your file calls the column NAME; may be repeated.")
    private Map<String, String> theirs = new LinkedHashMap<>();

    @Option(
            names = "--separator",
            paramLabel = "comma|semicolon|tab",
            converter = Separator.class,
            description = "What separates the columns; found from the heading unless given.")
    private Character separator;

    boolean given() {
        return file != null;
    }

    CsvTable table(List<Column> columns) {
        return table(file, columns, theirs);
    }

    /** Another file of the same command, with columns of its own; only the separator is shared. */
    CsvTable other(String otherFile, List<Column> columns) {
        Map<String, String> known = new LinkedHashMap<>(theirs);
        known.keySet().retainAll(columns.stream().map(Column::name).toList());
        return table(otherFile, columns, known);
    }

    private CsvTable table(String from, List<Column> columns, Map<String, String> names) {
        return CsvTable.of(CsvText.nameOf(from), CsvText.read(from), separator, columns, names);
    }
}
