package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.results.Results;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogType;

/** Every page in a real browser: no complaint in its console, nothing for axe to find, pictures of it to look at. */
class BrowserTest {
    private static final Path PICTURES = Path.of("target/screenshots");
    private static final String MACHINE = "/trial/demo/machine/" + Slug.of("Alder 22");

    /** Every page of the pages there are. */
    private static final Map<String, String> PAGES = new LinkedHashMap<>();

    static {
        PAGES.put("list", "/");
        PAGES.put("new", "/new");
        PAGES.put("overview", "/trial/demo");
        PAGES.put("overview-empty", "/trial/empty");
        PAGES.put("facts", "/trial/demo/facts");
        PAGES.put("machines", "/trial/demo/machines");
        PAGES.put("machine", MACHINE);
        PAGES.put("machine-new", "/trial/empty/machine");
        PAGES.put("circles", "/trial/demo/circles");
        PAGES.put("circles-next", "/trial/half/circles");
        PAGES.put("circle", "/trial/demo/circle/B1");
        PAGES.put("findings", "/trial/demo/findings");
        PAGES.put("phones", "/phones");
        PAGES.put("failure", "/nowhere");
    }

    @TempDir
    static Path above;

    private static Served served;
    private static ChromeDriver browser;

    private static Optional<File> onPath(String... names) {
        return Stream.of(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator))
                .flatMap(folder -> Stream.of(names).map(name -> new File(folder, name)))
                .filter(File::canExecute)
                .findFirst();
    }

    @BeforeAll
    static void start() throws IOException {
        Optional<File> binary = onPath("chromium", "chromium-browser", "google-chrome");
        Optional<File> driver = onPath("chromedriver");
        Assumptions.assumeTrue(
                binary.isPresent() && driver.isPresent(), "there is no browser with its driver on the PATH");
        Served.demoBelow(above);
        Path half = Served.copy(Served.DEMO, above.resolve("half"));
        Files.writeString(
                half.resolve("circles.csv"),
                "A16,Alder 22,right,4WD,25,2,none,yes,\r\n",
                java.nio.file.StandardOpenOption.APPEND);
        org.fairturn.folder.TrialFolder.create(above.resolve("empty"));
        served = Served.on(new Settings(above, true, 0), java.time.InstantSource.system());
        System.setProperty("webdriver.chrome.driver", driver.get().getPath());
        browser = new ChromeDriver(new ChromeOptions()
                .setBinary(binary.get())
                .addArguments("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"));
        browser.manage().timeouts().pageLoadTimeout(Duration.ofSeconds(60));
        Files.createDirectories(PICTURES);
    }

    @AfterAll
    static void stop() {
        if (browser != null) {
            browser.quit();
        }
        if (served != null) {
            served.close();
        }
    }

    private static void open(String path) {
        browser.get(served.origin() + path);
    }

    private static void see(boolean dark) {
        browser.executeCdpCommand(
                "Emulation.setEmulatedMedia",
                Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
    }

    private static void size(int width, int height) {
        browser.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", width < 500));
    }

    private static void picture(String name) throws IOException {
        Files.write(PICTURES.resolve(name + ".png"), browser.getScreenshotAs(OutputType.BYTES));
    }

    @Test
    void everyPage_isFreeOfComplaints_onPhoneAndLaptop_inLightAndDark() throws IOException {
        for (var page : PAGES.entrySet()) {
            for (boolean dark : new boolean[] {false, true}) {
                see(dark);
                for (int width : new int[] {390, 1280}) {
                    size(width, width == 390 ? 844 : 800);
                    open(page.getValue());
                    String name = page.getKey() + "-" + width + (dark ? "-dark" : "");
                    picture(name);
                    assertThat(wider()).as("%s runs over its side", name).isZero();
                }
                Results axe = new AxeBuilder().analyze(browser);
                assertThat(axe.getViolations())
                        .as("%s%s", page.getKey(), dark ? ", dark" : "")
                        .isEmpty();
            }
        }
        assertThat(browser.manage().logs().get(LogType.BROWSER).getAll().stream()
                        .map(Object::toString)
                        .filter(line -> !line.contains("/nowhere")))
                .isEmpty();
    }

    private static long wider() {
        return (Long) browser.executeScript(
                "return Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth)");
    }

    @Test
    void whatIsPressed_isLargeEnoughForAThumb() {
        size(390, 844);
        for (var page : PAGES.entrySet()) {
            open(page.getValue());
            for (WebElement target :
                    browser.findElements(By.cssSelector("button, .button, nav a, input[type=text], select, summary"))) {
                if (target.isDisplayed()) {
                    assertThat(target.getSize().getHeight())
                            .as("%s: %s", page.getKey(), target.getText())
                            .isGreaterThanOrEqualTo(48);
                }
            }
        }
    }

    @Test
    void theDrawing_followsWhatIsTyped() throws InterruptedException {
        size(1280, 800);
        open(MACHINE);
        WebElement wheelbase = browser.findElement(By.id("f-machine-wheelbase"));
        wheelbase.clear();
        wheelbase.sendKeys("5 ft 2 in");
        for (int i = 0; i < 200 && !drawing().contains("L wheelbase: 62.0 in"); i++) {
            Thread.sleep(100);
        }
        assertThat(drawing()).contains("L wheelbase: 62.0 in");
        // 26 1/16, 19 3/4 and 9 5/16 in to a tenth; 19 3/4 lies halfway and falls down in binary
        assertThat(drawing()).contains("left: A 26.1 in, B 19.7 in, R 9.3 in");
    }

    private static String drawing() {
        return browser.findElement(By.id("drawing")).getText();
    }

    @Test
    void pagesAreSmall_andNeedFewRequests() {
        for (var page : PAGES.entrySet()) {
            open(page.getValue());
            List<?> sizes = (List<?>) browser.executeScript(
                    "return performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource'))"
                            + ".map(e => e.encodedBodySize)");
            assertThat(sizes).as(page.getKey()).hasSizeLessThanOrEqualTo(10);
            assertThat(sizes.stream()
                            .mapToLong(size -> ((Number) size).longValue())
                            .sum())
                    .as(page.getKey())
                    .isLessThan(150_000);
        }
    }
}
