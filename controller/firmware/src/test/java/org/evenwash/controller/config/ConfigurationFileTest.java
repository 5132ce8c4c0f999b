package org.evenwash.controller.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import org.evenwash.controller.config.Pins.Active;
import org.evenwash.controller.config.Pins.InputLine;
import org.evenwash.controller.config.Pins.InputName;
import org.evenwash.controller.config.Pins.Pull;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Sensor;
import org.evenwash.controller.process.Settings;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ConfigurationFileTest {
    @TempDir Path folder;

    @Test
    void shippedSettings_areSafeAndCanBePrinted() {
        Configuration shipped = ConfigurationFile.shipped();

        assertThat(shipped.settings().mistakes()).isEmpty();
        assertThat(shipped.settings().safety().overrunLimit()).isEqualTo(Duration.ofMillis(100));
        assertThat(shipped.settings().safety().flashPointMargin_K()).isEqualTo(5);
        assertThat(shipped.settings().safety().refuseWarmSpirit()).isFalse();
        assertThat(shipped.recipe().id()).isEqualTo("two-minutes-three-bouts");
        assertThat(shipped.pins().inputs().get(InputName.E_STOP))
                .isEqualTo(new InputLine(5, Active.HIGH, Pull.DOWN));
        assertThat(shipped.pins().inputs()).doesNotContainKey(InputName.JAR_2);
        assertThat(ConfigurationFile.shippedText()).startsWith("# Evenwash controller");
    }

    @Test
    void ownFile_changesOnlyWhatItSays() throws Exception {
        Configuration own =
                read(
                        """
                        bench: { id: shed-2, dataFolder: data }
                        safety:
                          nearFlashPoint: refuse
                        pins:
                          inputs:
                            guard: none
                          temperatures:
                            ambient: 28-0000075a1b2c
                        """);

        assertThat(own.benchId()).isEqualTo("shed-2");
        assertThat(own.dataFolder()).isEqualTo(folder.resolve("data"));
        assertThat(own.settings().safety().refuseWarmSpirit()).isTrue();
        assertThat(own.settings().fitted()).doesNotContain(Sensor.GUARD);
        assertThat(own.settings().fitted()).containsAll(Settings.REQUIRED);
        assertThat(own.broker().port()).isEqualTo(1883);
    }

    @Test
    void everyMistake_isReportedAtOnce_withLineAndRemedy() {
        List<Mistake> mistakes =
                mistakesOf(
                        """
                        bench:
                          id: Bench One
                          jarPositoins: 2
                        broker:
                          port: 70000
                          tls: perhaps
                        safety:
                          overrunLimit_ms: soon
                          nearFlashPoint: ignore
                        limits:
                          fastest_rpm: 300
                          fastest_rpm: 200
                        pins:
                          inputs:
                            lid: { pin: 5, active: low, pull: up }
                            eStop: { pin: 5, active: low, pull: up }
                        """);

        assertThat(mistakes).extracting(Mistake::line).containsExactly(2, 3, 5, 6, 8, 9, 12, 15);
        assertThat(mistakes)
                .extracting(Mistake::inWords)
                .satisfiesExactly(
                        m -> assertThat(m).contains("bench.id reads 'Bench One'", "a-z 0-9 -"),
                        m -> assertThat(m).contains("not known", "Did you mean 'jarPositions'?"),
                        m -> assertThat(m).contains("broker.port is 70000", "1 to 65535"),
                        m -> assertThat(m).contains("broker.tls", "true or false"),
                        m -> assertThat(m).contains("overrunLimit_ms reads 'soon'", "not a number"),
                        m -> assertThat(m).contains("nearFlashPoint", "acknowledge, refuse"),
                        m -> assertThat(m).contains("stands twice, first in line 11"),
                        m -> assertThat(m).contains("lid.pin is 5", "eStop"));
    }

    @Test
    void passwordBeyondThisMachine_needsTls(@TempDir Path folder) throws IOException, MistakenFile {
        Path password = Files.writeString(folder.resolve("password"), "three words");
        String broker = "broker: { host: %s, user: bench-1, passwordFile: " + password + "%s }";
        assertThat(mistakesOf(broker.formatted("yard.example", "")))
                .singleElement()
                .extracting(Mistake::inWords)
                .asString()
                .contains("would travel to yard.example in clear", "trust.pem");
        assertThat(read(broker.formatted("yard.example", ", tls: true")).broker().tls()).isTrue();
        assertThat(read(broker.formatted("127.0.0.1", "")).broker().user()).isEqualTo("bench-1");
        assertThat(mistakesOf(broker.formatted("127.0.0.1.yard.example", ""))).hasSize(1);
    }

    /** Earlier versions had a key that let it go in clear; a file that still has it is not passed over. */
    @Test
    void keyThatLetAPasswordGoInClear_isAMistake_thatSaysWhatToDo(@TempDir Path folder)
            throws IOException {
        Path password = Files.writeString(folder.resolve("password"), "three words");
        for (String meant : List.of("true", "false", "")) {
            String broker =
                    """
                    broker:
                      host: %s
                      user: bench-1
                      passwordFile: %s
                      passwordInClear: %s
                    """;
            assertThat(mistakesOf(broker.formatted("127.0.0.1", password, meant)))
                    .singleElement()
                    .extracting(Mistake::inWords)
                    .asString()
                    .contains(
                            "line 5: broker.passwordInClear is not taken any more",
                            "Take the line out",
                            "tls: true",
                            "mqtts",
                            "8883");
            assertThat(mistakesOf(broker.formatted("yard.example", password, meant)))
                    .extracting(Mistake::what)
                    .anyMatch(what -> what.contains("would travel to yard.example in clear"));
        }
    }

    @Test
    void lineOfABus_cannotBeAnInputToo() {
        assertThat(
                        mistakesOf(
                                """
                                pins:
                                  inputs:
                                    lid: { pin: 2, active: low, pull: up }
                                """))
                .singleElement()
                .extracting(Mistake::inWords)
                .asString()
                .contains("line 3", "is 2, which the I2C bus has already");
    }

    @Test
    void safetyInput_cannotBeLeftOut() {
        assertThat(mistakesOf("pins: { inputs: { lid: none } }"))
                .singleElement()
                .extracting(Mistake::what)
                .asString()
                .contains("lid is none, and no bench is safe without it");
    }

    @Test
    void secondJarPosition_needsItsContact() {
        assertThat(mistakesOf("bench: { jarPositions: 2 }"))
                .extracting(Mistake::what)
                .contains("pins.inputs.jar2.pin is missing");
    }

    /** What the one-shot of the stop chain leaves: hardware-notes/stop-chain.md. */
    @Test
    void overrunLimit_staysBelowTheOneShot() throws MistakenFile {
        assertThat(mistakesOf("safety:\n  overrunLimit_ms: 141\n"))
                .singleElement()
                .extracting(Mistake::inWords)
                .asString()
                .startsWith("bench.yaml line 2: safety.overrunLimit_ms is 141. Expected 20 to 140")
                .contains("one-shot in the stop chain may open after 150 ms");
        assertThat(read("safety: { overrunLimit_ms: 140 }").settings().safety().overrunLimit())
                .isEqualTo(Duration.ofMillis(140));
    }

    @Test
    void benchThatCouldNeverStart_isAMistake() throws MistakenFile {
        String refuse = "safety:\n  nearFlashPoint: refuse\n";
        assertThat(mistakesOf(refuse))
                .singleElement()
                .extracting(Mistake::inWords)
                .asString()
                .startsWith("bench.yaml line 2: safety.nearFlashPoint is refuse")
                .contains("no start would ever be possible", "pins.temperatures");
        for (String seen : List.of("spirit", "ambient")) {
            String thermometer = "pins: { temperatures: { " + seen + ": 28-0000075a1b2c } }\n";
            assertThat(read(refuse + thermometer).settings().mistakes()).isEmpty();
        }
        assertThat(mistakesOf(refuse + "pins: { temperatures: { motor: 28-0000075a1b2c } }\n"))
                .hasSize(1);
    }

    /** The ranges are the machine's own, in the units of the file. */
    @Test
    void everyLimit_isBoundWhereItStands_andWhatIsInside_isSound() throws MistakenFile {
        String most =
                """
                safety: { cautionsHold_h: %s, proofTestEvery_days: %s }
                limits: { longestCycle_min: %s }
                jars: { remindAfter_min: %s, soakLimit_min: %s }
                """;
        assertThat(read(most.formatted(12, 366, 240, 60, 1440)).settings().mistakes()).isEmpty();
        assertThat(read(most.formatted(0.1, 1, 1, 0.2, 0.2)).settings().mistakes()).isEmpty();
        assertThat(mistakesOf(most.formatted(12.1, 367, 241, 61, 1441)))
                .extracting(Mistake::remedy)
                .containsExactlyInAnyOrder(
                        "Expected 0.1 to 12",
                        "Expected 1 to 366",
                        "Expected 1 to 240",
                        "Expected 0.2 to 60",
                        "Expected 0.2 to 1440");
    }

    @Test
    void driveSlowerThanFastestRecipe_isAMistake() {
        assertThat(mistakesOf("limits: { fastest_rpm: 500 }"))
                .extracting(Mistake::inWords)
                .anySatisfy(m -> assertThat(m).contains("fullDrive_rpm is 400", "500 to 6000"));
    }

    @Test
    void brokenYaml_namesTheLine() {
        assertThat(mistakesOf("bench:\n  id: [shed\nbroker: {}\n"))
                .singleElement()
                .satisfies(m -> assertThat(m.line()).isGreaterThan(1))
                .extracting(Mistake::what)
                .asString()
                .startsWith("this is not YAML");
    }

    @Test
    void missingFile_saysHowToMakeOne() {
        assertThatThrownBy(() -> ConfigurationFile.read(folder.resolve("none.yaml")))
                .isInstanceOf(MistakenFile.class)
                .hasMessageContaining("does not exist")
                .hasMessageContaining("config --print-default");
    }

    @Test
    void fileNamedInside_mustBeThere() {
        assertThat(mistakesOf("broker: { user: bench, passwordFile: secret.txt }"))
                .singleElement()
                .extracting(Mistake::inWords)
                .asString()
                .contains("secret.txt", "not a readable file");
    }

    @Test
    void logInByHalves_isAMistake() {
        assertThat(mistakesOf("broker: { user: bench }"))
                .singleElement()
                .extracting(Mistake::remedy)
                .isEqualTo("Give both user and passwordFile, or neither");
    }

    @Test
    void ownRecipe_isThereBesideTheShippedOnes() throws Exception {
        Files.writeString(
                folder.resolve("own.yaml"),
                """
                recipes:
                  - id: slow-start
                    name: Slow start
                    bouts:
                      - { agitation_s: 20, speed_rpm: 120, ramp_s: 2, rest_s: 10 }
                      - { agitation_s: 50, speed_rpm: 180, reverse: true }
                """);

        Configuration own = read("bench: { recipesFile: own.yaml, recipe: slow-start }");

        assertThat(own.recipe().totalAgitation()).isEqualTo(Duration.ofSeconds(70));
        assertThat(own.recipes()).extracting(Recipe::id).contains("second-wash", "slow-start");
    }

    @Test
    void mistakeInARecipe_namesItsFileAndLine() throws Exception {
        Files.writeString(
                folder.resolve("own.yaml"),
                """
                recipes:
                  - id: second-wash
                    name: Mine
                    bouts:
                      - { agitation_s: -1, speed: 180 }
                """);

        assertThat(mistakesOf("bench: { recipesFile: own.yaml }"))
                .extracting(Mistake::inWords)
                .allSatisfy(m -> assertThat(m).contains("own.yaml line "))
                .anySatisfy(m -> assertThat(m).contains("line 2", "shipped recipe"))
                .anySatisfy(m -> assertThat(m).contains("line 5", "Did you mean 'speed_rpm'?"))
                .anySatisfy(m -> assertThat(m).contains("agitation_s is -1", "0.1 to 3600"));
    }

    private Configuration read(String text) throws MistakenFile {
        return ConfigurationFile.read("bench.yaml", text, folder);
    }

    private List<Mistake> mistakesOf(String text) {
        return catchThrowableOfType(MistakenFile.class, () -> read(text)).mistakes();
    }
}
