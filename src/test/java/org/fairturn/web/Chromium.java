package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.openqa.selenium.WebDriverException;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeOptions;

/** The browser that the tests of pages look at them in. */
final class Chromium {
    private Chromium() {}

    /** A new one without a window; the test is left out where there is none. */
    static ChromeDriver start() {
        Optional<File> binary = onPath("chromium", "chromium-browser", "google-chrome");
        Optional<File> driver = onPath("chromedriver");
        Assumptions.assumeTrue(
                binary.isPresent() && driver.isPresent(), "there is no browser with its driver on the PATH");
        System.setProperty("webdriver.chrome.driver", driver.get().getPath());
        ChromeDriver browser = new ChromeDriver(new ChromeOptions()
                .setBinary(binary.get())
                .addArguments("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"));
        browser.manage().timeouts().pageLoadTimeout(Duration.ofSeconds(60));
        return browser;
    }

    private static Optional<File> onPath(String... names) {
        return Stream.of(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator))
                .flatMap(folder -> Stream.of(names).map(name -> new File(folder, name)))
                .filter(File::canExecute)
                .findFirst();
    }

    /** A screen of that size; one as narrow as a phone's is one. */
    static void size(ChromeDriver browser, int width, int height) {
        browser.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", width < 500));
    }

    /** Waits for a minute at most. */
    static void until(String what, BooleanSupplier holds) {
        long deadline = System.nanoTime() + Duration.ofSeconds(60).toNanos();
        while (!holds(holds)) {
            assertThat(System.nanoTime()).as("waited long enough for: %s", what).isLessThan(deadline);
            try {
                Thread.sleep(50);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new AssertionError(e);
            }
        }
    }

    /** Not yet, where the page replaces what is being looked at, which the driver says in several ways. */
    private static boolean holds(BooleanSupplier condition) {
        try {
            return condition.getAsBoolean();
        } catch (WebDriverException onItsWay) {
            return false;
        }
    }
}
