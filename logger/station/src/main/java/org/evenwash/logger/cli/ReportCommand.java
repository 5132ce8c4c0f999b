package org.evenwash.logger.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Clock;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.evenwash.logger.report.ReportDesk;
import org.evenwash.logger.report.Wording;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.Report;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.logger.web.ReaderWording;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "report",
        description = "Reports for paper: make one, write one out again, list them.",
        mixinStandardHelpOptions = true,
        footer = {
            "",
            "For example:",
            "  evenwash-logger report colony Alder --pdf alder.pdf",
            "  evenwash-logger report day \"Hollow Lane\" 2031-05-18",
            "  evenwash-logger report show 7 --html report-7.html"
        },
        subcommands = {
            ReportCommand.OfWash.class,
            ReportCommand.OfColony.class,
            ReportCommand.OfDay.class,
            ReportCommand.OfCalibration.class,
            ReportCommand.Show.class,
            ReportCommand.ListThem.class
        })
final class ReportCommand implements Callable<Integer> {
    @Spec CommandSpec spec;

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getOut());
        return ExitCode.WRONG_INPUT;
    }

    /** Where the two files go. */
    static final class Target {
        @Option(
                names = "--pdf",
                paramLabel = "FILE",
                description = "Where the PDF goes. Default without --html: report-NUMBER.pdf")
        Path pdf;

        @Option(names = "--html", paramLabel = "FILE", description = "Where the page goes.")
        Path html;
    }

    /** What all that make a report share. */
    abstract static class Making implements Callable<Integer> {
        @Mixin DataOption data;
        @Mixin Target files;
        @Spec CommandSpec spec;

        @Option(
                names = "--by",
                paramLabel = "NAME",
                description = "Who makes it, as in the list of people.")
        String by;

        @Option(
                names = "--locale",
                paramLabel = "TAG",
                description = {
                    "How dates and numbers are written and how large the paper is,",
                    "such as en-GB or de-AT. Default: this computer's."
                })
        String locale;

        abstract Report make(ReportDesk desk, Workplace place, Wording wording, By who);

        @Override
        public Integer call() {
            try (Database database = data.open()) {
                Workplace place = place(database);
                Locale reader =
                        locale == null ? Locale.getDefault() : Locale.forLanguageTag(locale);
                Report report =
                        make(
                                new ReportDesk(place, database.demonstration()),
                                place,
                                ReaderWording.of(reader, place),
                                new Lookup(place).operator(by));
                spec.commandLine()
                        .getOut()
                        .println("Report " + report.number() + ": " + report.title());
                write(report, place, files, spec.commandLine().getOut());
            }
            return ExitCode.RESULT;
        }
    }

    private static Workplace place(Database database) {
        return Workplace.over(database, new NoLink(), Clock.systemUTC());
    }

    private static void write(Report report, Workplace place, Target files, PrintWriter out) {
        Path pdf =
                files.pdf == null && files.html == null
                        ? Path.of("report-" + report.number() + ".pdf")
                        : files.pdf;
        write(place, report, Report.Format.PDF, pdf, out);
        write(place, report, Report.Format.HTML, files.html, out);
        out.flush();
    }

    private static void write(
            Workplace place, Report report, Report.Format format, Path file, PrintWriter out) {
        if (file == null) {
            return;
        }
        try {
            Files.write(
                    file,
                    place.reports().file(report.id(), format),
                    StandardOpenOption.CREATE_NEW,
                    StandardOpenOption.WRITE);
        } catch (FileAlreadyExistsException e) {
            throw new BadInput(
                    file
                            + " is there already; the report is kept as number "
                            + report.number()
                            + ", write it elsewhere with 'report show "
                            + report.number()
                            + "'");
        } catch (IOException e) {
            throw new UncheckedIOException("cannot write " + file, e);
        }
        out.println("Written: " + file);
    }

    @Command(
            name = "wash",
            description = "Makes the report of one wash.",
            mixinStandardHelpOptions = true)
    static final class OfWash extends Making {
        @Parameters(
                paramLabel = "WASH",
                arity = "1..2",
                description = "Its id, as in the address of its page; or its colony and its day.")
        String[] wash;

        @Override
        Report make(ReportDesk desk, Workplace place, Wording wording, By who) {
            Lookup lookup = new Lookup(place);
            var id = wash.length == 1 ? lookup.id(wash[0]) : lookup.wash(wash[0], wash[1]);
            return desk.make(Report.Kind.WASH, id, null, wording, who);
        }
    }

    @Command(
            name = "colony",
            description = "Makes the report of one colony over time.",
            mixinStandardHelpOptions = true)
    static final class OfColony extends Making {
        @Parameters(paramLabel = "COLONY", description = "Its name or its id.")
        String colony;

        @Override
        Report make(ReportDesk desk, Workplace place, Wording wording, By who) {
            return desk.make(
                    Report.Kind.COLONY, new Lookup(place).colony(colony), null, wording, who);
        }
    }

    @Command(
            name = "day",
            description = "Makes the report of one apiary and day.",
            mixinStandardHelpOptions = true)
    static final class OfDay extends Making {
        @Parameters(paramLabel = "APIARY", index = "0", description = "Its name or its id.")
        String apiary;

        @Parameters(paramLabel = "DAY", index = "1", description = "Such as 2031-05-18.")
        String day;

        @Override
        Report make(ReportDesk desk, Workplace place, Wording wording, By who) {
            return desk.make(
                    Report.Kind.APIARY_DAY,
                    new Lookup(place).apiary(apiary),
                    Lookup.day(day),
                    wording,
                    who);
        }
    }

    @Command(
            name = "calibration",
            description = "Makes the report of one calibration.",
            mixinStandardHelpOptions = true)
    static final class OfCalibration extends Making {
        @Parameters(paramLabel = "ID", description = "As in the address of its page.")
        String calibration;

        @Override
        Report make(ReportDesk desk, Workplace place, Wording wording, By who) {
            return desk.make(
                    Report.Kind.CALIBRATION, new Lookup(place).id(calibration), null, wording, who);
        }
    }

    @Command(
            name = "show",
            description = "Writes a report out again, byte for byte as it was handed out.",
            mixinStandardHelpOptions = true)
    static final class Show implements Callable<Integer> {
        @Mixin DataOption data;
        @Mixin Target files;
        @Spec CommandSpec spec;

        @Parameters(paramLabel = "NUMBER", description = "As printed at its foot.")
        long number;

        @Override
        public Integer call() {
            PrintWriter out = spec.commandLine().getOut();
            try (Database database = data.open()) {
                Workplace place = place(database);
                Report report = place.reports().numbered(number);
                if (report.superseded()) {
                    out.println(
                            "Superseded "
                                    + report.supersededAt()
                                    + ": "
                                    + report.supersededWhy()
                                    + ". The file is as it was handed out.");
                }
                write(report, place, files, out);
            }
            return ExitCode.RESULT;
        }
    }

    @Command(
            name = "list",
            description = "Lists them, newest first.",
            mixinStandardHelpOptions = true)
    static final class ListThem implements Callable<Integer> {
        @Mixin DataOption data;
        @Spec CommandSpec spec;

        @Override
        public Integer call() {
            PrintWriter out = spec.commandLine().getOut();
            try (Database database = data.open()) {
                Workplace place = place(database);
                TextTable table = new TextTable("number", "made", "state", "about");
                long rows = 0;
                for (int page = 1; ; page++) {
                    var listing = place.reports().list(new Page(page, Page.MOST));
                    for (Report report : listing.rows()) {
                        rows++;
                        table.row(
                                String.valueOf(report.number()),
                                report.madeAt().toString(),
                                report.superseded() ? "superseded" : "stands",
                                report.title());
                    }
                    if (!listing.hasNext()) {
                        break;
                    }
                }
                if (rows == 0) {
                    out.println("No report yet. Make one with 'report wash', 'colony' or 'day'.");
                } else {
                    table.lines().forEach(out::println);
                }
                out.flush();
            }
            return ExitCode.RESULT;
        }
    }
}
