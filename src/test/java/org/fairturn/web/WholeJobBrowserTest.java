package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.selenium.AxeBuilder;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.fairturn.folder.TrialFolder;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.logging.LogType;

/**
 * A trial from the first page to the files handed over, as one person does it in one browser: only the first page is opened by
 * its address. No page may complain in the console or give axe something to find.
 */
@Timeout(300)
class WholeJobBrowserTest {
    private static final Path PICTURES = Path.of("target/screenshots");
    private static final int MOST_TABS = 300;

    private static ChromeDriver browser;

    @TempDir
    Path above;

    @TempDir
    Path taken;

    private Served served;
    private String job;
    private int width;
    private int height;
    private int pictures;

    @BeforeAll
    static void startBrowser() throws IOException {
        browser = Chromium.start();
        Files.createDirectories(PICTURES);
    }

    @AfterAll
    static void stopBrowser() {
        if (browser != null) {
            browser.quit();
        }
    }

    @BeforeEach
    void start() {
        served = Served.on(above);
        browser.executeCdpCommand(
                "Browser.setDownloadBehavior", Map.of("behavior", "allow", "downloadPath", taken.toString()));
        browser.manage().logs().get(LogType.BROWSER);
    }

    @AfterEach
    void stop() {
        served.close();
    }

    /** How somebody works a page. */
    private interface Hand {
        void type(String css, String text);

        /** A link, a button, a box or what unfolds. */
        void press(String css);

        void choose(String css, String option);

        /** A reading into the form of a circle. */
        void read(String metres);
    }

    private static WebElement find(String css) {
        return browser.findElement(By.cssSelector(css));
    }

    /** A finger or a mouse. */
    private static final class Pointer implements Hand {
        @Override
        public void type(String css, String text) {
            WebElement field = find(css);
            field.clear();
            field.sendKeys(text);
        }

        @Override
        public void press(String css) {
            browser.executeScript("arguments[0].scrollIntoView({block: 'center'})", find(css));
            find(css).click();
        }

        @Override
        public void choose(String css, String option) {
            find(css + " option[value='" + option + "']").click();
        }

        @Override
        public void read(String metres) {
            for (int i = 0; i < metres.length(); i++) {
                press("#keys [data-key='" + metres.charAt(i) + "']");
            }
            press("#keys [data-key='m']");
            press("#save");
        }
    }

    /** Nothing but keys: tab leads to everything. */
    private static final class Keyboard implements Hand {
        private static void send(CharSequence... keys) {
            new Actions(browser).sendKeys(keys).perform();
        }

        private static void reach(String css) {
            for (int i = 0; i < MOST_TABS; i++) {
                Object there = browser.executeScript(
                        "return document.activeElement === document.querySelector(arguments[0])", css);
                if (Boolean.TRUE.equals(there)) {
                    return;
                }
                send(Keys.TAB);
            }
            throw new AssertionError("tab never leads to " + css);
        }

        @Override
        public void type(String css, String text) {
            reach(css);
            new Actions(browser)
                    .keyDown(Keys.CONTROL)
                    .sendKeys("a")
                    .keyUp(Keys.CONTROL)
                    .sendKeys(text)
                    .perform();
        }

        @Override
        public void press(String css) {
            reach(css);
            send("input".equals(find(css).getTagName()) ? Keys.SPACE : Keys.ENTER);
        }

        @Override
        public void choose(String css, String option) {
            reach(css);
            send(option);
        }

        @Override
        public void read(String metres) {
            type("#f-value", metres + " m");
            send(Keys.ENTER);
        }
    }

    private void size(int tall) {
        Chromium.size(browser, width, tall);
    }

    private static void see(boolean dark) {
        browser.executeCdpCommand(
                "Emulation.setEmulatedMedia",
                Map.of("features", List.of(Map.of("name", "prefers-color-scheme", "value", dark ? "dark" : "light"))));
    }

    /** Waits for a page and looks at all of it, in light and dark. */
    private void arrive(String heading, String sign) {
        Chromium.until(
                heading + ", " + sign,
                () -> find("h1").getText().equals(heading)
                        && !browser.findElements(By.cssSelector(sign)).isEmpty());
        long tall = ((Number) browser.executeScript("return document.documentElement.scrollHeight")).longValue();
        String name = job + "-" + String.format("%02d", ++pictures);
        size((int) Math.max(height, Math.min(tall, 6000)));
        for (boolean dark : new boolean[] {true, false}) {
            see(dark);
            try {
                Files.write(
                        PICTURES.resolve(name + (dark ? "-dark" : "") + ".png"),
                        browser.getScreenshotAs(OutputType.BYTES));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            assertThat(new AxeBuilder().analyze(browser).getViolations())
                    .as("%s (%s)%s", heading, name, dark ? ", dark" : "")
                    .isEmpty();
        }
        size(height);
        assertThat((Long) browser.executeScript(
                        "return document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                .as("%s runs over its side", heading)
                .isZero();
        assertThat(browser.manage().logs().get(LogType.BROWSER).getAll())
                .as("console of %s", heading)
                .isEmpty();
    }

    private void wholeJob(String name, Hand hand, int wide, int tall) throws IOException {
        job = "job-" + name;
        width = wide;
        height = tall;
        size(tall);
        browser.get(served.origin() + "/");
        arrive("Trials", "a[href='/new']");

        hand.press("a[href='/new'].button");
        arrive("New trial", "#f-title");
        hand.type("#f-title", "Meadow");
        hand.type("#f-date", "2026-05-14");
        hand.press("main form button");
        arrive("Meadow", ".steps");

        hand.press(".steps a[href$='/machines']");
        arrive("Machines", "a[href$='/machine']");
        hand.press("a.button[href$='/machine']");
        Chromium.until("the form of a machine", () -> find("#f-machine-machine").isDisplayed());
        hand.type("#f-machine-machine", "Alder 22");
        hand.type("#f-machine-wheelbase", "1450 mm");
        hand.type("#f-machine-front-track", "1000 mm");
        String[][] blades = {{"660", "520"}, {"840", "18"}, {"660", "-484"}};
        for (int i = 0; i < blades.length; i++) {
            String blade = "#f-blade" + (i + 1) + "-";
            hand.type(blade + "ahead-of-rear-axle", blades[i][0]);
            hand.type(blade + "left-of-centreline", blades[i][1]);
            hand.type(blade + "tip-radius", "236");
        }
        for (String stop : List.of("#f-stop1-", "#f-stop2-")) {
            hand.type(stop + "specified", "28");
            hand.type(stop + "found", "28");
            hand.choose(stop + "touches-axle", "yes");
            hand.type(stop + "arm", "120");
        }
        hand.press("#machine-form button[type=submit]");
        Chromium.until(
                "the machine is saved",
                () -> Files.exists(above.resolve("meadow/stops.csv"))
                        && lines("stops.csv").size() == 3);
        Chromium.until("its page", () -> find("#said").getText().startsWith("✓"));
        arrive(find("h1").getText(), "#said .said");

        hand.press(".trial a[href$='/plan']");
        arrive("Plan the circles", "#f-minutes");
        hand.type("#f-circle-scatter", "10 mm");
        hand.type("#f-reading-scatter", "5 mm");
        hand.type("#f-minutes", "40");
        hand.press("#work-out");
        arrive("Plan the circles", "#make");
        hand.press("#make");
        arrive("Circles", ".run li");
        List<Circle> planned = circles();
        assertThat(planned).hasSize(4);

        hand.press(".nextup a.button");
        for (int i = 0; i < planned.size(); i++) {
            Circle circle = planned.get(i);
            String heading = "Circle " + circle.id();
            if (i == 0) {
                arrive(heading, "#keys button");
            } else {
                Chromium.until(heading, () -> find("h1").getText().equals(heading));
            }
            for (int reading = 0; reading < 2; reading++) {
                String metres =
                        circle.cell().turn() == Turn.LEFT ? "1.5" + (i + 2 * reading) : "1.9" + (i + 2 * reading);
                int saved = reading + 1;
                hand.read(metres);
                Chromium.until(
                        metres,
                        () -> browser.findElements(By.cssSelector(".saved li")).size() == saved
                                && find("#told").getText().startsWith("Saved: "));
            }
            if (i + 1 < planned.size()) {
                hand.press(".along a.go:last-child");
            }
        }
        assertThat(circles()).allMatch(circle -> circle.readings().size() == 2);
        arrive("Circle " + planned.get(3).id(), "#estimate");

        hand.press(".trial a[href$='/findings']");
        arrive("Findings", "#findings-title");
        List<String> badges = texts(".answer .badge");
        List<String> answers = texts(".answer");
        assertThat(badges).isNotEmpty();

        hand.press(".tryout > summary");
        hand.type("#f-margin", "1500 mm");
        hand.press("#what-if button[type=submit]");
        Chromium.until("what is tried", () -> find("#told").getText().contains("verdict"));
        assertThat(find("#shown").getText()).contains("Practical margin 1500 mm (59.1 in) instead of 50 mm (2.0 in).");
        arrive("Findings", ".tried");
        assertThat(texts(".answer .badge")).isNotEqualTo(badges);
        hand.press(".tried .actions a");
        Chromium.until(
                "as measured",
                () -> find("#findings-title").getText().equals("What this trial shows")
                        && texts(".answer .badge").equals(badges));

        hand.press("#files a[href$='/file/results.json']");
        hand.press("#files a[href$='/file/report.html']");
        Path json = arrived("results.json");
        Path report = arrived("report.html");
        JsonNode findings = new ObjectMapper().readTree(json.toFile()).get("findings");
        assertThat(findings).hasSameSizeAs(badges);
        for (int i = 0; i < badges.size(); i++) {
            JsonNode finding = findings.get(i);
            assertThat(answers.get(i)).contains(plain(finding.get("sentence").textValue()));
            assertThat(badges.get(i)).contains(words(finding.get("verdict").textValue()));
        }
        browser.get(report.toUri().toString());
        assertThat(texts(".answer .badge")).isEqualTo(badges);
        assertThat(texts(".answer")).isEqualTo(answers);
        assertThat(browser.manage().logs().get(LogType.BROWSER).getAll()).isEmpty();
    }

    /** A verdict as a badge says it. */
    private static String words(String verdict) {
        return switch (verdict) {
            case "within", "beyond" -> verdict + " the margin";
            case "cannotTell" -> "cannot tell yet";
            case "notPossible" -> "not possible";
            default -> verdict;
        };
    }

    private static String plain(String text) {
        return text.replace('\u00a0', ' ');
    }

    private static List<String> texts(String css) {
        List<String> texts = new ArrayList<>();
        browser.findElements(By.cssSelector(css)).forEach(element -> texts.add(plain(element.getText())));
        return texts;
    }

    private List<String> lines(String file) {
        try {
            return Files.readAllLines(above.resolve("meadow").resolve(file));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private List<Circle> circles() {
        return TrialFolder.readPlanned(above.resolve("meadow"))
                .fold(read -> read.trial().circles(), faulty -> {
                    throw new AssertionError(faulty.problems());
                });
    }

    private Path arrived(String name) throws IOException {
        Path file = taken.resolve(name);
        Chromium.until(name, () -> Files.exists(file) && file.toFile().length() > 0);
        return file;
    }

    @Test
    void onAPhone() throws IOException {
        wholeJob("phone", new Pointer(), 390, 844);
    }

    @Test
    void onADesk() throws IOException {
        wholeJob("desk", new Pointer(), 1280, 800);
    }

    @Test
    void withTheKeyboardAlone() throws IOException {
        wholeJob("keyboard", new Keyboard(), 1280, 800);
    }
}
