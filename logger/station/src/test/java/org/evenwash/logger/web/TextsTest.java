package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.evenwash.analysis.operators.Compared;
import org.evenwash.analysis.operators.Funnel;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.ImportFile;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.transfer.DayOrder;
import org.evenwash.logger.transfer.ImportPlan;
import org.evenwash.logger.transfer.WashField;
import org.evenwash.logger.wash.ApiaryOverview;
import org.evenwash.logger.wash.ColonyList;
import org.evenwash.logger.wash.NextWash;
import org.evenwash.logger.wash.RecipeWish;
import org.evenwash.logger.wash.Season;
import org.evenwash.logger.wash.SecondWash;
import org.evenwash.logger.wash.TreatmentEffect;
import org.evenwash.record.BenchState;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.junit.jupiter.api.Test;

/** The bundle has every text that is asked for, and no other. */
class TextsTest {
    private static final Pattern KEY =
            Pattern.compile("\"([a-z][A-Za-z-]*(?:\\.[A-Za-z0-9-]+)+|simulated)\"");
    private static final Texts ENGLISH = Texts.in(Locale.UK);

    private static final List<Class<? extends Enum<?>>> SPOKEN =
            List.of(
                    BenchState.State.class,
                    Outcome.class,
                    Pass.class,
                    Frame.class,
                    QueenCheck.class,
                    BeeMeasure.class,
                    Hemisphere.class,
                    StoredTicket.Standing.class,
                    ColonyEvent.Kind.class,
                    Season.class,
                    NextWash.Rule.class,
                    ColonyList.Sort.class,
                    ApiaryOverview.Standing.class,
                    ApiaryOverview.MeanOf.class,
                    TreatmentEffect.Why.class,
                    ImportFile.Standing.class,
                    WashField.class,
                    DayOrder.class,
                    ImportPlan.AgitationUnit.class,
                    ImportPlan.MassUnit.class,
                    CalibrationKind.class,
                    SecondWash.class,
                    RecipeWish.Aim.class,
                    Compared.class,
                    OperatorComparison.Verdict.class,
                    Funnel.Place.class,
                    Role.class);

    private static Set<String> asked() throws IOException {
        Set<String> keys = new TreeSet<>();
        for (Path folder :
                List.of(
                        Path.of("src/main/jte"),
                        Path.of("src/main/java/org/evenwash/logger/report"),
                        Path.of("src/main/java/org/evenwash/logger/web"))) {
            try (Stream<Path> files = Files.walk(folder)) {
                for (Path file : files.filter(Files::isRegularFile).toList()) {
                    Matcher key = KEY.matcher(Files.readString(file));
                    while (key.find()) {
                        keys.add(key.group(1));
                    }
                }
            }
        }
        return keys;
    }

    private static Set<String> bundle() throws IOException {
        Properties properties = new Properties();
        try (var reader =
                Files.newBufferedReader(Path.of("src/main/resources/web/texts.properties"))) {
            properties.load(reader);
        }
        return properties.stringPropertyNames();
    }

    @Test
    void everyConstantThatIsShown_hasAWord() {
        for (Class<? extends Enum<?>> type : SPOKEN) {
            for (Enum<?> one : type.getEnumConstants()) {
                assertThat(ENGLISH.say(one)).as(type + " " + one).isNotBlank();
            }
        }
    }

    @Test
    void noText_standsUnused() throws IOException {
        Set<String> asked = asked();
        Set<String> families = new TreeSet<>();
        SPOKEN.forEach(type -> families.add(type.getSimpleName()));
        List<String> unused = new ArrayList<>();
        for (String key : bundle()) {
            boolean made =
                    key.startsWith("field.")
                            || key.startsWith("status.")
                            || key.startsWith("phase.")
                            || key.startsWith("spirit.use.")
                            || key.startsWith("colony.other.")
                            || families.contains(key.split("\\.")[0]);
            if (!made && !asked.contains(key)) {
                unused.add(key);
            }
        }
        assertThat(unused).isEmpty();
    }

    /** A straight apostrophe would swallow what follows it, braces and all. */
    @Test
    void everyText_isAMessageThatCanBeFilledIn() throws IOException {
        for (String key : bundle()) {
            String text = ENGLISH.say(key, 1, 2, 3, 4);
            assertThat(text).as(key).isNotBlank().doesNotContain("{", "}");
        }
        Properties properties = new Properties();
        try (var reader =
                Files.newBufferedReader(Path.of("src/main/resources/web/texts.properties"))) {
            properties.load(reader);
        }
        for (Map.Entry<Object, Object> entry : properties.entrySet()) {
            assertThat(entry.getValue().toString()).as("" + entry.getKey()).doesNotContain("'");
        }
    }

    /** {@link Properties} would keep the last of two in silence. Every file of settings or texts that ships. */
    @Test
    void noKey_standsTwice() throws IOException {
        List<Path> files;
        try (Stream<Path> all = Files.walk(Path.of("src/main/resources"))) {
            files = all.filter(file -> file.toString().endsWith(".properties")).toList();
        }
        assertThat(files).contains(Path.of("src/main/resources/web/texts.properties"));
        for (Path file : files) {
            List<String> doubled = new ArrayList<>();
            Properties seen =
                    new Properties() {
                        private static final long serialVersionUID = 1L;

                        @Override
                        public synchronized Object put(Object key, Object value) {
                            Object before = super.put(key, value);
                            if (before != null) {
                                doubled.add(key + ": " + before + " | " + value);
                            }
                            return before;
                        }
                    };
            try (var reader = Files.newBufferedReader(file)) {
                seen.load(reader);
            }
            assertThat(seen).as(file.toString()).isNotEmpty();
            assertThat(doubled).as("keys that stand twice in " + file).isEmpty();
        }
    }
}
