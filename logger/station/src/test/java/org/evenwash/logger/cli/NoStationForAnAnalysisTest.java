package org.evenwash.logger.cli;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** An analysis runs on a file alone and starts at once: nothing of the station is loaded for it. */
@AnalyzeClasses(
        packages = "org.evenwash.logger.cli",
        importOptions = ImportOption.DoNotIncludeTests.class)
class NoStationForAnAnalysisTest {
    @ArchTest
    static final ArchRule analysesKnowNoStation =
            noClasses()
                    .that()
                    .areAssignableTo(Analysis.class)
                    .or()
                    .haveSimpleNameStartingWith("Csv")
                    .or()
                    .haveSimpleName("Report")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "org.evenwash.logger.store..",
                            "org.evenwash.logger.broker..",
                            "org.evenwash.logger.intake..",
                            "org.evenwash.logger.web..",
                            "org.evenwash.logger.wash..",
                            "org.slf4j..",
                            "org.jdbi..");
}
