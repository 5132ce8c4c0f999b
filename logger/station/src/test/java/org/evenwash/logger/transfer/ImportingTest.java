package org.evenwash.logger.transfer;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.ImportFile;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ImportingTest {
    private static final String[] PLAIN = {
        "Date,Colony,Bees,Mites,Sampled by",
        "2031-05-18,Alder,312,9,Ada",
        "2031-05-18,Birch,300,0,Ada",
        "2031-06-20,Alder,295,14,Brook"
    };

    @TempDir Path folder;
    private OldBook book;

    @BeforeEach
    void open() {
        book = new OldBook(folder);
    }

    @AfterEach
    void close() {
        book.close();
    }

    @Test
    void dryRun_tellsWhatWouldCome_andImportsNothing() {
        Outcome outcome = book.check(book.upload(PLAIN));

        assertThat(outcome.rows()).isEqualTo(3);
        assertThat(outcome.ready()).isEqualTo(3);
        assertThat(outcome.bad()).isZero();
        assertThat(outcome.apiaries().first()).containsExactly("Old Orchard");
        assertThat(outcome.colonies().first()).containsExactly("Alder", "Birch");
        assertThat(outcome.operators().first()).containsExactly("Ada", "Brook");
        assertThat(outcome.firstDay()).isEqualTo("2031-05-18");
        assertThat(outcome.lastDay()).isEqualTo("2031-06-20");
        assertThat(book.washes()).isEmpty();
        assertThat(book.colonies()).isEmpty();
        assertThat(book.work.yard().operators()).isEmpty();
    }

    @Test
    void acceptedFile_makesWashesLikeAnyOther() {
        ImportFile done = book.bringIn(PLAIN);

        assertThat(done.standing()).isEqualTo(ImportFile.Standing.IMPORTED);
        assertThat(book.washes())
                .extracting(WashLine::colony, WashLine::bees, WashLine::mites, WashLine::operator)
                .containsExactlyInAnyOrder(
                        tuple("Alder", 312.0, 9, "Ada"),
                        tuple("Birch", 300.0, 0, "Ada"),
                        tuple("Alder", 295.0, 14, "Brook"));
        WashSheet sheet = book.work.sheets().of(book.washes().get(0).id());
        assertThat(sheet.mites()).contains(14);
        assertThat(sheet.wash().beeMeasure()).isEqualTo(BeeMeasure.COUNTED);
        assertThat(sheet.flags()).isEmpty();
    }

    @Test
    void everyProblem_isNamedByLineColumnValueAndWhatIsExpected_andRefusesTheFile() {
        UUID id =
                book.upload(
                        "Date;Colony;Bees;Mites",
                        "2031-05-18;Alder;300;9",
                        "someday;;300;2,5",
                        "2032-01-01;Birch;-4;1",
                        "2031-05-18;Birch;300",
                        "2031-05-19;\"Birch; the old one\";300;1.000");

        Outcome outcome = book.check(id);

        assertThat(outcome.rows()).isEqualTo(5);
        assertThat(outcome.ready()).isEqualTo(1);
        assertThat(outcome.bad()).isEqualTo(4);
        assertThat(outcome.problems())
                .extracting(RowProblem::line, RowProblem::column, RowProblem::value)
                .containsExactly(
                        tuple(3L, "Date", "someday"),
                        tuple(3L, "Colony", ""),
                        tuple(3L, "Mites", "2,5"),
                        tuple(4L, "Date", "2032-01-01"),
                        tuple(4L, "Bees", "-4"),
                        tuple(5L, "", ""),
                        tuple(6L, "Mites", "1.000"));
        assertThat(outcome.problems().get(0).expected()).isEqualTo("a day such as 2031-07-09");
        assertThat(outcome.problems().get(5).expected()).startsWith("3 values under 4 headings");
        assertThatThrownBy(() -> book.accept(id))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("4 rows with a problem; nothing was imported");
        assertThat(book.washes()).isEmpty();
        assertThat(book.colonies()).isEmpty();

        book.importing.accept(id, true, true, By.nobody(), Progress.NONE);

        assertThat(book.washes()).hasSize(1);
        List<RowProblem> all = new ArrayList<>();
        UUID again = book.upload("Date,Colony,Bees,Mites", "x,y,z,w");
        book.check(again);
        book.importing.problems(again, all::add);
        assertThat(all).hasSize(3);
    }

    @Test
    void handling_isReadWhereTheFileHasIt_andWhatCannotBeIsAProblem() {
        UUID id =
                book.upload(
                        "Date;Colony;Mites;Frames;Bees covered;Upper sieve;Lower sieve;Jar checked",
                        "2031-05-18;Alder;9;3;yes;3.2;0.4;",
                        "2031-05-19;Alder;9;0;perhaps;0.4;3.2;no",
                        "2031-05-20;Alder;9;;;;;");

        Outcome outcome = book.check(id);

        assertThat(outcome.problems())
                .extracting(RowProblem::line, RowProblem::column, RowProblem::value)
                .containsExactly(
                        tuple(3L, "Frames", "0"),
                        tuple(3L, "Lower sieve", "3.2"),
                        tuple(3L, "Bees covered", "perhaps"));
        book.importing.accept(id, true, true, By.nobody(), Progress.NONE);
        assertThat(book.washes())
                .extracting(line -> book.work.washes().wash(line.id()).handling())
                .containsExactly(
                        Handling.NOT_STATED, new Handling(3, null, true, 3.2, 0.4, null, null));
    }

    @Test
    void newNames_areMadeOnlyWhenAgreed() {
        UUID id = book.upload(PLAIN);
        book.check(id);

        assertThatThrownBy(
                        () -> book.importing.accept(id, false, false, By.nobody(), Progress.NONE))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("not known; nothing was imported");
        assertThat(book.washes()).isEmpty();
        assertThat(book.importing.file(id).standing()).isEqualTo(ImportFile.Standing.CHECKED);
    }

    @Test
    void sameFileAgain_importsNothingTwice_andALongerOneOnlyWhatIsNew() {
        book.bringIn(PLAIN);

        UUID again = book.upload(PLAIN);
        Outcome outcome = book.check(again);
        assertThat(outcome.sameFile()).isTrue();
        assertThat(outcome.alreadyHere()).isEqualTo(3);
        assertThat(outcome.hereLines()).containsExactly(2L, 3L, 4L);
        assertThat(outcome.needsNew()).isFalse();
        assertThatThrownBy(() -> book.accept(again)).hasMessageContaining("holds nothing new");

        String[] longer = new String[PLAIN.length + 2];
        System.arraycopy(PLAIN, 0, longer, 0, PLAIN.length);
        longer[PLAIN.length] = "2031-07-01,Birch,310,3,Ada";
        // The same colony, day and counts twice in one file: two samples, both kept.
        longer[PLAIN.length + 1] = "2031-07-01,Birch,310,3,Ada";
        book.bringIn(longer);
        assertThat(book.washes()).hasSize(5);
        book.check(book.upload(longer));
        assertThat(book.washes()).hasSize(5);
    }

    @Test
    void importedWashThatWasCorrected_isStillKnown() {
        book.bringIn(PLAIN);
        var sheet = book.work.sheets().of(book.washes().get(0).id());
        var count = sheet.pass(Pass.FIRST).orElseThrow().firstCount().orElseThrow();
        book.work.counting().correct(count.id(), count.version(), 15, "slip", By.nobody());

        assertThat(book.check(book.upload(PLAIN)).alreadyHere()).isEqualTo(3);
    }

    @Test
    void washEnteredByHand_isKnownByItsColonyDayAndCounts() {
        book.bringIn("Date,Colony,Bees,Mites", "2031-05-18,Alder,312,9");

        Outcome outcome =
                book.check(
                        book.upload(
                                "when;hive;bees;mites;notes;Day",
                                ";alder ;312;9;other columns, same wash;2031-05-18"));

        assertThat(outcome.problems()).isEmpty();
        assertThat(outcome.alreadyHere()).isEqualTo(1);
    }

    @Test
    void undoneImport_isGoneWithAllItMade_andCanBeImportedAgain() {
        var kept =
                book.work
                        .yard()
                        .addApiary(
                                "Old Orchard", "Europe/Vienna", Hemisphere.NORTHERN, By.nobody());
        book.work.yard().addColony(kept.id(), "Alder", By.nobody());
        ImportFile done = book.bringIn(PLAIN);
        assertThat(book.colonies()).containsExactly("Alder", "Birch");

        ImportFile undone = book.importing.undo(done.id(), "wrong year", By.nobody());

        assertThat(undone.standing()).isEqualTo(ImportFile.Standing.UNDONE);
        assertThat(undone.undoneWhy()).isEqualTo("wrong year");
        assertThat(book.washes()).isEmpty();
        assertThat(book.colonies()).containsExactly("Alder");
        assertThat(book.work.yard().operators()).isEmpty();
        book.check(done.id());
        book.accept(done.id());
        assertThat(book.washes()).hasSize(3);
    }

    @Test
    void undo_keepsWhatOthersUseByNow() {
        ImportFile done = book.bringIn(PLAIN);
        var birch =
                book.work
                        .yard()
                        .allColonies(org.evenwash.logger.store.Page.first(10))
                        .rows()
                        .get(1);
        book.work.yard().requeen(birch.id(), LocalDate.of(2031, 7, 1), "", By.nobody());

        book.importing.undo(done.id(), "try again", By.nobody());

        assertThat(book.colonies()).containsExactly("Birch");
        assertThat(book.work.yard().apiaries()).hasSize(1);
    }

    @Test
    void undo_isRefusedOnceSomethingWasBuiltOnIt() {
        ImportFile done = book.bringIn(PLAIN);
        var wash = book.washes().get(0);
        book.work.counting().recount(wash.id(), Pass.FIRST, 15, null, true, By.nobody());

        assertThatThrownBy(() -> book.importing.undo(done.id(), "wrong", By.nobody()))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("worked on since: line 4 was counted again");
        assertThat(book.washes()).hasSize(3);
    }

    @Test
    void lettersSeparatorsDecimalsAndDays_areFound() {
        String text = "Datum;Volk;Bienen;Milben;Gewicht\n18.5.31;Bärlauch;300;3;35,5\n";
        for (Charset charset :
                List.of(
                        StandardCharsets.UTF_8,
                        StandardCharsets.ISO_8859_1,
                        StandardCharsets.UTF_16,
                        StandardCharsets.UTF_16LE)) {
            CsvFile file = CsvFile.of(text.getBytes(charset), null);
            ImportPlan plan = Suggestion.of(file, List.of());
            assertThat(file.headings()).as(charset.name()).hasSize(5);
            assertThat(plan.decimalComma()).isTrue();
            assertThat(plan.dayOrder()).isEqualTo(DayOrder.DAY_MONTH_YEAR);
            assertThat(plan.columns())
                    .containsEntry(WashField.DAY, 0)
                    .containsEntry(WashField.COLONY, 1)
                    .containsEntry(WashField.BEES, 2)
                    .containsEntry(WashField.MITES, 3)
                    .containsEntry(WashField.SAMPLE_MASS, 4);
        }
        UUID id = book.upload(text.getBytes(StandardCharsets.ISO_8859_1));
        assertThat(book.importing.look(id).letters()).isEqualTo("Latin-1");
        book.check(id);
        book.accept(id);
        assertThat(book.colonies()).containsExactly("Bärlauch");
        assertThat(book.work.washes().wash(book.washes().get(0).id()).sampleMass_g())
                .isEqualTo(35.5);
    }

    @Test
    void whatIsNoCsv_isRefusedWithWhatToDo() {
        assertThatThrownBy(() -> book.upload(new byte[] {'P', 'K', 3, 4, 0}))
                .hasMessage("file is a spreadsheet or an archive; export the sheet as CSV first");
        assertThatThrownBy(() -> book.upload(new byte[0])).hasMessageContaining("is empty");
        assertThatThrownBy(
                        () -> book.upload("a,b\n\"open,1\n2,3\n".getBytes(StandardCharsets.UTF_8)))
                .hasMessageContaining("quotation mark");
    }

    @Test
    void days_areReadInTheOrderThatWasChosen() {
        assertThat(DayOrder.DAY_MONTH_YEAR.read("3/4/2031", null))
                .contains(LocalDate.of(2031, 4, 3));
        assertThat(DayOrder.MONTH_DAY_YEAR.read("3/4/2031", null))
                .contains(LocalDate.of(2031, 3, 4));
        assertThat(DayOrder.DAY_MONTH_YEAR.read("9-Jul-31", null))
                .contains(LocalDate.of(2031, 7, 9));
        assertThat(DayOrder.YEAR_MONTH_DAY.read("2031-07-09T10:15:00", null))
                .contains(LocalDate.of(2031, 7, 9));
        assertThat(DayOrder.YEAR_MONTH_DAY.read("20310709", null))
                .contains(LocalDate.of(2031, 7, 9));
        // IEEE Std 1003.1, strptime, %y: 69 to 99 are 1969 to 1999.
        assertThat(DayOrder.DAY_MONTH_YEAR.read("09.07.98", null))
                .contains(LocalDate.of(1998, 7, 9));
        assertThat(DayOrder.DAY_NUMBER.read("21", LocalDate.of(2031, 5, 1)))
                .contains(LocalDate.of(2031, 5, 22));
        assertThat(DayOrder.DAY_MONTH_YEAR.read("31.02.2031", null)).isEmpty();
        assertThat(DayOrder.MONTH_DAY_YEAR.read("13/13/2031", null)).isEmpty();
        assertThat(DayOrder.YEAR_MONTH_DAY.read("9.7.2031", null)).isEmpty();
    }

    @Test
    void colony_isFoundUnderTheNameAndApiaryItHadThatDay() {
        var apiary =
                book.work
                        .yard()
                        .addApiary("Hollow Lane", "Etc/UTC", Hemisphere.NORTHERN, By.nobody());
        var colony = book.work.yard().addColony(apiary.id(), "Seven", By.nobody());
        book.work.yard().rename(colony.id(), "Linden", LocalDate.of(2031, 4, 1), By.nobody());

        book.bringIn(
                "Date,Apiary,Colony,Mites",
                "2031-03-20,hollow lane,SEVEN,1",
                "2031-05-20,Hollow Lane,Linden,2",
                "2031-03-21,Hollow Lane,Linden,3");

        assertThat(book.work.yard().allColonies(org.evenwash.logger.store.Page.first(10)).rows())
                .hasSize(1);
        assertThat(book.washes()).extracting(WashLine::colonyId).containsOnly(colony.id());
    }

    @Test
    void colonyThatHadEnded_isAProblemOfItsRow() {
        var apiary =
                book.work
                        .yard()
                        .addApiary("Hollow Lane", "Etc/UTC", Hemisphere.NORTHERN, By.nobody());
        var colony = book.work.yard().addColony(apiary.id(), "Seven", By.nobody());
        book.work.yard().died(colony.id(), LocalDate.of(2031, 4, 1), "", By.nobody());

        Outcome outcome =
                book.check(
                        book.upload("Date,Apiary,Colony,Mites", "2031-05-01,Hollow Lane,Seven,1"));

        assertThat(outcome.problems())
                .extracting(RowProblem::line, RowProblem::column, RowProblem::expected)
                .containsExactly(
                        tuple(
                                2L,
                                "Colony",
                                "a day up to 2031-04-01: the colony ended then, was renamed or moved"
                                        + " away"));
    }

    @Test
    void unmappedColumns_canBeKeptInTheRemarks() {
        UUID id = book.upload("Date,Colony,Mites,Weather,Visit", "2031-05-01,Alder,1,rain,2");
        ImportPlan plan = book.plan(id);
        book.importing.check(
                id,
                new ImportPlan(
                        plan.separator(),
                        plan.decimalComma(),
                        plan.dayOrder(),
                        null,
                        plan.columns(),
                        plan.apiary(),
                        plan.timeZone(),
                        plan.hemisphere(),
                        plan.beeMeasure(),
                        plan.frame(),
                        plan.agitationUnit(),
                        plan.massUnit(),
                        true),
                Progress.NONE);
        book.accept(id);

        assertThat(book.work.washes().wash(book.washes().get(0).id()).remarks())
                .isEqualTo("Weather: rain; Visit: 2");
    }

    @Test
    void fileThatIsAcceptedTwice_isImportedOnce() {
        UUID id = book.upload(PLAIN);
        book.check(id);
        book.accept(id);
        book.accept(id);

        assertThat(book.washes()).hasSize(3);
        assertThatThrownBy(() -> book.check(id)).hasMessageContaining("is imported already");
        assertThatThrownBy(() -> book.importing.discard(id))
                .hasMessageContaining("undo it instead");
    }
}
