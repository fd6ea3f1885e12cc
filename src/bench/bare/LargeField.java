import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A field of 100 ha through the real pages: kept, laid out, drawn, stored. No page may take longer than 5 s. */
public class LargeField {
    private static final double LONGEST = 5;
    private static final String CORNERS =
            "0 0\n485 -63\n813 47\n1094 -31\n1298 219\n1157 485\n1266 735\n938 907\n641 766\n344 938\n78 688\n-125 297";

    private final HttpClient client = HttpClient.newBuilder()
            .cookieHandler(new java.net.CookieManager())
            .followRedirects(HttpClient.Redirect.NORMAL)
            .build();
    private final String base;
    private String token = "";
    private boolean slow;

    private LargeField(String base) {
        this.base = base;
    }

    public static void main(String[] args) throws Exception {
        LargeField field = new LargeField(args[0]);
        String blocks = "/v/" + args[3] + "/blocks";
        field.get("", "/sign-in");
        field.post("", "/sign-in", "email=" + code(args[1]) + "&password=" + code(args[2]));
        field.get("", blocks + "/new");
        String spacing = "rowSpacingM=2.2&vineSpacingM=1.2&headlandM=6&sideMarginM=2&minVinesPerRow=3&alignment=ROW&version=0";
        System.out.println("a field of 100 ha through the pages, each once, cold:");
        String block = field.post("corners kept", blocks, "code=H100&name=Hundred&boundary=" + code(CORNERS));
        System.out.println("  " + found(block, "([\\d.,]+ ha)"));
        String shown = field.get("the fullest rows found and drawn", blocks + "/H100/layout?show=1&" + spacing);
        System.out.println("  " + found(shown, "class=\"figure\">([^<]+)"));
        field.get("layouts compared", blocks + "/H100/choices");
        field.get("spacings for vines in hand", blocks + "/H100/vines-in-hand?vines=350000");
        String accept = "";
        Matcher hidden = Pattern.compile("<input type=\"hidden\" name=\"(\\w+)\" value=\"([^\"]*)\"")
                .matcher(shown.substring(shown.lastIndexOf("<form", shown.indexOf("name=\"alignment\" value"))));
        while (hidden.find() && !hidden.group(1).equals("version")) {
            if (!hidden.group(1).startsWith("_") && !hidden.group(1).equals("once")) {
                accept += hidden.group(1) + "=" + code(hidden.group(2)) + "&";
            }
        }
        String stored = field.post("rows stored", blocks + "/H100/layout", accept + "version=0");
        System.out.println("  places: " + found(stored, "Places</dt><dd>([\\d,]+)"));
        field.get("block page drawn", blocks + "/H100");
        field.get("stake-out sheet", blocks + "/H100/stake-out");
        if (field.slow) {
            System.out.println("a page took longer than " + LONGEST + " s");
            System.exit(1);
        }
    }

    private static String found(String page, String pattern) {
        Matcher m = Pattern.compile(pattern).matcher(page);
        return m.find() ? m.group(1) : "?";
    }

    private static String code(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }

    private String get(String what, String path) throws Exception {
        return send(what, HttpRequest.newBuilder(URI.create(base + path)).build());
    }

    private String post(String what, String path, String form) throws Exception {
        return send(
                what,
                HttpRequest.newBuilder(URI.create(base + path))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .POST(HttpRequest.BodyPublishers.ofString("_csrf=" + code(token) + "&" + form))
                        .build());
    }

    private String send(String what, HttpRequest request) throws Exception {
        long start = System.nanoTime();
        HttpResponse<String> answer = client.send(request, HttpResponse.BodyHandlers.ofString());
        double seconds = (System.nanoTime() - start) / 1e9;
        if (answer.statusCode() != 200) {
            throw new IllegalStateException(request.uri().getPath() + " answered " + answer.statusCode());
        }
        Matcher m = Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"").matcher(answer.body());
        token = m.find() ? m.group(1) : token;
        if (!what.isEmpty()) {
            System.out.printf("  %-34s %5.2f s%n", what, seconds);
            slow |= seconds > LONGEST;
        }
        return answer.body();
    }
}
