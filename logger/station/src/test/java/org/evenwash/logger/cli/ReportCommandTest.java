package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.LocalDate;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.NewWash;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReportCommandTest {
    @TempDir Path folder;

    @BeforeEach
    void oneWash() {
        try (Database database = open()) {
            Workplace place = Workplace.over(database, new NoLink(), Clock.systemUTC());
            By by = By.nobody();
            var apiary = place.yard().addApiary("Hazel Bank", "Etc/UTC", Hemisphere.NORTHERN, by);
            var colony = place.yard().addColony(apiary.id(), "H1", by);
            place.yard().addOperator("Ada", by);
            var wash =
                    place.washes()
                            .plan(
                                    new NewWash(
                                            colony.id(),
                                            LocalDate.of(2031, 5, 18),
                                            null,
                                            Frame.BROOD_NEST,
                                            QueenCheck.SEEN_ELSEWHERE,
                                            "",
                                            false),
                                    by);
            place.washes().enterBees(wash.id(), 1, BeeMeasure.COUNTED, 300, null, null, "", by);
            place.counting().enter(wash.id(), Pass.FIRST, 2, null, by);
        }
    }

    private Database open() {
        return Database.open("jdbc:sqlite:" + DataFolder.database(folder));
    }

    private Run report(String... args) {
        String[] all = new String[args.length + 3];
        all[0] = "report";
        System.arraycopy(args, 0, all, 1, args.length);
        all[args.length + 1] = "--data";
        all[args.length + 2] = folder.toString();
        return Run.of(all);
    }

    private String pdf(String name) {
        return folder.resolve(name).toString();
    }

    /** 2 mites in 300 bees read 0.67 per 100, common practice, no source; limits Garwood 1936. */
    @Test
    void washColonyAndDay_areWrittenAndNumbered() throws IOException {
        Run wash =
                report(
                        "wash",
                        "H1",
                        "2031-05-18",
                        "--by",
                        "Ada",
                        "--locale",
                        "en-GB",
                        "--pdf",
                        pdf("w.pdf"),
                        "--html",
                        pdf("w.html"));
        assertThat(wash.err()).isEmpty();
        assertThat(wash.exit()).isZero();
        assertThat(wash.words()).contains("Report 1: Wash of H1, Hazel Bank, 18 May 2031");
        try (PDDocument document = Loader.loadPDF(folder.resolve("w.pdf").toFile())) {
            assertThat(new PDFTextStripper().getText(document))
                    .contains("0.67 mites per 100 bees", "95 %: 0.08–2.41", "by Ada");
        }
        assertThat(Files.readString(folder.resolve("w.html"))).contains("0.67", "0.08–2.41");
        assertThat(report("colony", "H1", "--pdf", pdf("c.pdf")).words()).contains("Report 2:");
        assertThat(report("day", "Hazel Bank", "2031-05-18", "--pdf", pdf("d.pdf")).words())
                .contains("Report 3: Day at Hazel Bank");
        assertThat(report("list").out()).contains("Wash of H1", "Colony H1", "stands");
        assertThat(report("show", "1", "--pdf", pdf("again.pdf")).exit()).isZero();
        assertThat(folder.resolve("again.pdf")).hasSameBinaryContentAs(folder.resolve("w.pdf"));
    }

    @Test
    void mistakes_sayWhatThereIs() {
        assertThat(report("colony", "H2").err()).contains("no living colony is called 'H2'", "H1");
        assertThat(report("day", "Hazel Bank", "May").err()).contains("write it like 2031-05-18");
        assertThat(report("day", "Hazel Bank", "2031-05-19").err()).contains("has no wash");
        assertThat(report("wash", "H1", "2031-05-19").err()).contains("was not washed on");
        assertThat(report("wash", "x").err()).contains("is no id");
        assertThat(report("show", "9").err()).contains("number 9 is not here");
        assertThat(report("colony", "H1", "--by", "Zoe").err()).contains("nobody is called", "Ada");
        assertThat(report("list").out()).contains("No report yet");
    }

    @Test
    void fileThatIsThere_isNotOverwritten_andTheReportIsNotLost() throws IOException {
        Files.writeString(folder.resolve("mine.pdf"), "mine");
        Run run = report("colony", "H1", "--pdf", pdf("mine.pdf"));
        assertThat(run.exit()).isEqualTo(ExitCode.WRONG_INPUT);
        assertThat(run.err()).contains("is there already", "report show 1");
        assertThat(folder.resolve("mine.pdf")).hasContent("mine");
    }
}
