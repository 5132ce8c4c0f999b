package org.evenwash.logger;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.library.dependencies.SlicesRuleDefinition;

/** Which package of the station may know which. */
@AnalyzeClasses(
        packages = "org.evenwash.logger",
        importOptions = ImportOption.DoNotIncludeTests.class)
class ArrowsTest {
    private static final String BASE = "org.evenwash.logger.";

    @ArchTest
    static final ArchRule STORE_KNOWS_NOTHING_ABOVE_IT =
            noClasses()
                    .that()
                    .resideInAPackage(BASE + "store..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            BASE + "wash..",
                            BASE + "intake..",
                            BASE + "broker..",
                            BASE + "web..",
                            BASE + "cli..",
                            BASE + "rules..",
                            BASE + "report..",
                            BASE + "chart..");

    @ArchTest
    static final ArchRule SERVICES_KNOW_NO_WAY_IN =
            noClasses()
                    .that()
                    .resideInAPackage(BASE + "wash..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            BASE + "report..",
                            BASE + "intake..",
                            BASE + "broker..",
                            BASE + "web..",
                            BASE + "cli..");

    @ArchTest
    static final ArchRule REPORTS_KNOW_NO_WAY_IN =
            noClasses()
                    .that()
                    .resideInAPackage(BASE + "report..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            BASE + "intake..", BASE + "broker..", BASE + "web..", BASE + "cli..");

    @ArchTest
    static final ArchRule PAPER_STAYS_IN_THE_REPORTS =
            noClasses()
                    .that()
                    .resideOutsideOfPackage(BASE + "report..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "org.apache.pdfbox..", "de.rototor..", "com.google.zxing..");

    @ArchTest
    static final ArchRule THE_BROKER_STANDS_ALONE =
            noClasses()
                    .that()
                    .resideInAPackage(BASE + "broker..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            BASE + "store..",
                            BASE + "wash..",
                            BASE + "intake..",
                            BASE + "web..",
                            BASE + "cli..");

    @ArchTest
    static final ArchRule INTAKE_KNOWS_NO_PAGES =
            noClasses()
                    .that()
                    .resideInAPackage(BASE + "intake..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            BASE + "broker..", BASE + "report..", BASE + "web..", BASE + "cli..");

    @ArchTest
    static final ArchRule SQL_STAYS_IN_THE_STORE =
            noClasses()
                    .that()
                    .resideOutsideOfPackage(BASE + "store..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "java.sql..", "org.jdbi.v3.core.mapper..", "org.flywaydb..");

    @ArchTest
    static final ArchRule ARTEMIS_STAYS_IN_THE_BROKER =
            noClasses()
                    .that()
                    .resideOutsideOfPackage(BASE + "broker..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("org.apache.activemq..");

    @ArchTest
    static final ArchRule THE_MQTT_CLIENT_STAYS_IN_THE_INTAKE =
            noClasses()
                    .that()
                    .resideOutsideOfPackage(BASE + "intake..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("org.eclipse.paho..");

    @ArchTest
    static final ArchRule THE_LOGGER_KNOWS_NO_CONTROLLER =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("org.evenwash.controller..");

    @ArchTest
    static final ArchRule NO_CIRCLES =
            SlicesRuleDefinition.slices().matching(BASE + "(*)..").should().beFreeOfCycles();
}
