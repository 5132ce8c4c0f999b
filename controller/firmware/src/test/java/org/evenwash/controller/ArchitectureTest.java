package org.evenwash.controller;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** The arrows between the packages: adapters know the process, never the reverse, nor each other. */
@AnalyzeClasses(packages = "org.evenwash", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {
    private static final String BASE = "org.evenwash.controller";

    @ArchTest
    static final ArchRule PROCESS_IS_PURE =
            classes()
                    .that()
                    .resideInAPackage(BASE + ".process..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(BASE + ".process..", "java..");

    @ArchTest
    static final ArchRule PROCESS_KNOWS_NO_CLOCK_THREAD_SOCKET_OR_FILE =
            noClasses()
                    .that()
                    .resideInAPackage(BASE + ".process..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "java.io..", "java.nio.file..", "java.net..", "java.util.concurrent..")
                    .orShould()
                    .callMethod(System.class, "nanoTime")
                    .orShould()
                    .callMethod(System.class, "currentTimeMillis");

    @ArchTest
    static final ArchRule PORTS_SPEAK_THE_WORDS_OF_THE_PROCESS =
            classes()
                    .that()
                    .resideInAPackage(BASE + ".port..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            BASE + ".port..",
                            BASE + ".process..",
                            "org.evenwash.record..",
                            "java..");

    @ArchTest
    static final ArchRule MQTT_KNOWS_NO_OTHER_ADAPTER =
            alone("mqtt", "store", "pi4j", "sim", "panel");

    @ArchTest
    static final ArchRule STORE_KNOWS_NO_OTHER_ADAPTER =
            alone("store", "mqtt", "pi4j", "sim", "panel");

    @ArchTest
    static final ArchRule PI4J_KNOWS_NO_OTHER_ADAPTER =
            alone("pi4j", "mqtt", "store", "sim", "panel", "config");

    @ArchTest
    static final ArchRule SIM_KNOWS_NO_OTHER_ADAPTER =
            alone("sim", "mqtt", "store", "pi4j", "panel", "config");

    @ArchTest
    static final ArchRule PANEL_KNOWS_NO_OTHER_ADAPTER =
            alone("panel", "mqtt", "store", "pi4j", "sim", "config");

    @ArchTest
    static final ArchRule SETTINGS_KNOW_NO_ADAPTER =
            alone("config", "mqtt", "store", "pi4j", "sim", "panel");

    @ArchTest
    static final ArchRule SYSTEMD_KNOWS_NO_OTHER_ADAPTER =
            alone("systemd", "mqtt", "store", "pi4j", "sim", "panel", "config", "process");

    @ArchTest
    static final ArchRule THE_CONTRACT_KNOWS_NO_CONTROLLER =
            noClasses()
                    .that()
                    .resideInAPackage("org.evenwash.record..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage(BASE + "..");

    @ArchTest
    static final ArchRule NOBODY_BUT_THE_WIRING_KNOWS_THE_WIRING =
            noClasses()
                    .that()
                    .resideOutsideOfPackage(BASE)
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage(BASE);

    private static ArchRule alone(String one, String... others) {
        String[] packages = new String[others.length];
        for (int i = 0; i < others.length; i++) {
            packages[i] = BASE + "." + others[i] + "..";
        }
        return noClasses()
                .that()
                .resideInAPackage(BASE + "." + one + "..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage(packages);
    }
}
