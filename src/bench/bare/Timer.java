import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Signs in and reads pages in turn; prints each page's median and its ratio to the first page's; what starts with = is shown. */
public class Timer {

    public static void main(String[] args) throws Exception {
        String base = args[0];
        String email = args[1];
        String password = args[2];
        int rounds = Integer.parseInt(args[3]);
        HttpClient client = HttpClient.newBuilder()
                .cookieHandler(new java.net.CookieManager())
                .followRedirects(HttpClient.Redirect.NORMAL)
                .build();
        String signIn = get(client, base + "/sign-in");
        Matcher token = Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"").matcher(signIn);
        if (!token.find()) {
            throw new IllegalStateException("no token on the sign-in page");
        }
        HttpRequest post = HttpRequest.newBuilder(URI.create(base + "/sign-in"))
                .header("Content-Type", "application/x-www-form-urlencoded")
                .POST(HttpRequest.BodyPublishers.ofString("_csrf=" + token.group(1) + "&email="
                        + java.net.URLEncoder.encode(email, "UTF-8") + "&password=" + java.net.URLEncoder.encode(password, "UTF-8")))
                .build();
        client.send(post, HttpResponse.BodyHandlers.ofString());
        List<String> paths = new ArrayList<>();
        List<String> shown = new ArrayList<>();
        for (String path : List.of(args).subList(4, args.length)) {
            (path.startsWith("=") ? shown : paths).add(path.startsWith("=") ? path.substring(1) : path);
        }
        for (int i = 0; i < rounds / 2; i++) {
            for (String path : paths) {
                get(client, base + path);
            }
        }
        List<List<Double>> times = new ArrayList<>();
        paths.forEach(path -> times.add(new ArrayList<>()));
        for (int i = 0; i < rounds; i++) {
            for (int p = 0; p < paths.size(); p++) {
                long start = System.nanoTime();
                get(client, base + paths.get(p));
                times.get(p).add((System.nanoTime() - start) / 1e6);
            }
        }
        double bare = median(times.get(0));
        for (int p = 0; p < paths.size(); p++) {
            double median = median(times.get(p));
            System.out.printf("  %-60s median %7.2f ms  ratio %.2f%n", paths.get(p), median, median / bare);
        }
        for (String path : shown) {
            System.out.print(get(client, base + path));
        }
    }

    private static String get(HttpClient client, String url) throws Exception {
        HttpResponse<String> answer = client.send(HttpRequest.newBuilder(URI.create(url)).build(), HttpResponse.BodyHandlers.ofString());
        if (answer.statusCode() != 200) {
            throw new IllegalStateException(url + " answered " + answer.statusCode());
        }
        return answer.body();
    }

    private static double median(List<Double> values) {
        List<Double> sorted = new ArrayList<>(values);
        Collections.sort(sorted);
        return sorted.get(sorted.size() / 2);
    }
}
