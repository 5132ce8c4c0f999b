package org.evenwash.logger.cli;

import java.io.PrintWriter;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.infestation.Infestation;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "infestation",
        description =
                "Mites per 100 bees with an exact 95 %% interval, from one count or a CSV file.",
        mixinStandardHelpOptions = true)
final class InfestationCommand implements Callable<Integer> {
    @Spec CommandSpec spec;

    @Option(names = "--mites", paramLabel = "N", description = "Mites counted, 0 or more.")
    Integer mites;

    @Option(
            names = "--bees",
            paramLabel = "N",
            description = "Bees in the sample, above 0; with decimals if estimated.")
    Double bees;

    @Option(
            names = "--column",
            paramLabel = "OURS=THEIRS",
            description = "Which column of the file is mites or bees, such as mites=varroa.")
    Map<String, String> columns = Map.of();

    @Option(
            names = "--separator",
            paramLabel = "CHAR",
            description = "Between the file's columns. Default: a comma.",
            defaultValue = ",")
    char separator;

    @Option(names = "--json", description = "JSON in full precision.")
    boolean json;

    @Parameters(
            paramLabel = "FILE.csv",
            arity = "0..1",
            description = "A wash a row, columns mites and bees; - reads standard input.")
    String file;

    @Override
    public Integer call() {
        PrintWriter out = spec.commandLine().getOut();
        if (file == null) {
            one(out);
        } else if (mites != null || bees != null) {
            throw new BadInput("give either a file or --mites and --bees, not both");
        } else {
            many(out, CountTable.read(file, columns, separator));
        }
        out.flush();
        return ExitCode.OK;
    }

    private void one(PrintWriter out) {
        if (mites == null || bees == null) {
            throw new BadInput("give --mites and --bees, or a CSV file");
        }
        if (mites < 0 || mites > 1_000_000) {
            throw new BadInput("--mites is " + mites + ", expected 0 to 1000000");
        }
        if (!(bees > 0 && bees <= 1_000_000)) {
            throw new BadInput("--bees is " + plain(bees) + ", expected a number above 0");
        }
        Result result = Infestation.counted(mites, bees);
        if (json) {
            out.println(ResultJson.text(json(mites, bees, result)));
            return;
        }
        out.println(ResultText.of(result, Quantity.INFESTATION));
        result.remarks().forEach(out::println);
    }

    private void many(PrintWriter out, List<CountTable.Row> rows) {
        if (json) {
            out.println(ResultJson.text(rows.stream().map(InfestationCommand::json).toList()));
            return;
        }
        out.printf("%6s %6s %10s  %s%n", "line", "mites", "bees", "per 100 bees (95 % interval)");
        for (CountTable.Row row : rows) {
            out.printf(
                    "%6d %6d %10s  %s%n",
                    row.line(),
                    row.mites(),
                    plain(row.bees()) + (estimated(row.bees()) ? "~" : ""),
                    text(Infestation.counted(row.mites(), row.bees())));
        }
        out.println(rows.size() + " washes, not corrected for recovery.");
        if (rows.stream().anyMatch(row -> estimated(row.bees()))) {
            out.println("~ Bees estimated, not counted; the interval leaves that uncertainty out.");
        }
    }

    private static String text(Result result) {
        return ResultText.of(result, Quantity.INFESTATION)
                .replace(" " + Quantity.INFESTATION.unit(), "");
    }

    private static Map<String, Object> json(CountTable.Row row) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("line", row.line());
        json.putAll(json(row.mites(), row.bees(), Infestation.counted(row.mites(), row.bees())));
        return json;
    }

    private static Map<String, Object> json(int mites, double bees, Result result) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("mites", mites);
        json.put("bees", bees);
        json.put("beesEstimated", estimated(bees));
        json.put("unit", "mites per 100 bees");
        json.putAll(ResultJson.of(result));
        return json;
    }

    private static boolean estimated(double bees) {
        return bees != Math.rint(bees);
    }

    private static String plain(double number) {
        return Double.isFinite(number)
                ? BigDecimal.valueOf(number).stripTrailingZeros().toPlainString()
                : String.valueOf(number);
    }
}
