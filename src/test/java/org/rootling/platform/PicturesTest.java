package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.UUID;
import java.util.zip.CRC32;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** What becomes of a file that somebody sends. */
@AppTest
class PicturesTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Pictures pictures;

    TestVineyard vineyard;

    @BeforeEach
    void start() {
        vineyard = vineyards.fresh();
    }

    @Test
    void aPhotoIsTurnedUprightMadeSmallerAndKeepsNothingOfWhereItWasTaken() throws Exception {
        byte[] phone = withExif(image("jpg", 3000, 1500));
        UUID id = vineyard.inside(() -> pictures.keep(phone));
        byte[] whole = vineyard.inside(() -> pictures.find(id)).orElseThrow().content();
        BufferedImage seen = ImageIO.read(new ByteArrayInputStream(whole));
        assertThat(seen.getWidth()).isEqualTo(1000);
        assertThat(seen.getHeight()).isEqualTo(2000);
        // Orientation 6 (Exif 2.3, tag 0x0112): the left edge of what is stored is the top of what was seen.
        assertThat(new Color(seen.getRGB(500, 100)).getRed()).isGreaterThan(200);
        assertThat(new Color(seen.getRGB(500, 1900)).getBlue()).isGreaterThan(200);
        assertThat(new String(phone, StandardCharsets.ISO_8859_1)).contains("Exif", "47.1234 N");
        assertThat(new String(whole, StandardCharsets.ISO_8859_1)).doesNotContain("Exif", "47.1234 N");
        byte[] small =
                vineyard.inside(() -> pictures.findSmall(id)).orElseThrow().content();
        assertThat(ImageIO.read(new ByteArrayInputStream(small)).getHeight()).isEqualTo(320);
    }

    @Test
    void aDrawingWithoutGroundStandsOnWhiteAndIsNotBlownUp() throws Exception {
        BufferedImage clear = new BufferedImage(40, 30, BufferedImage.TYPE_INT_ARGB);
        ByteArrayOutputStream png = new ByteArrayOutputStream();
        ImageIO.write(clear, "png", png);
        UUID id = vineyard.inside(() -> pictures.keep(png.toByteArray()));
        BufferedImage seen = ImageIO.read(new ByteArrayInputStream(
                vineyard.inside(() -> pictures.find(id)).orElseThrow().content()));
        assertThat(seen.getWidth()).isEqualTo(40);
        assertThat(new Color(seen.getRGB(20, 15))).isEqualTo(Color.WHITE);
    }

    @Test
    void whatIsNoPictureIsRefusedWhateverItIsCalled() {
        refused("<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>".getBytes(StandardCharsets.UTF_8));
        refused("GIF89a but not really".getBytes(StandardCharsets.UTF_8));
        refused(new byte[] {(byte) 0xFF, (byte) 0xD8, (byte) 0xFF, 0});
        assertThatThrownBy(() -> vineyard.inside(() -> pictures.keep(new byte[0])))
                .hasMessage("platform.picture.empty");
        assertThatThrownBy(() -> vineyard.inside(() -> pictures.keep(new byte[Pictures.MOST_BYTES + 1])))
                .hasMessage("platform.picture.too-large");
    }

    @Test
    void aSmallFileThatClaimsToBeAHugePictureIsRefusedBeforeItIsRead() {
        assertThatThrownBy(() -> vineyard.inside(() -> pictures.keep(pngHeader(40_000, 40_000))))
                .hasMessage("platform.picture.too-many-points");
    }

    @Test
    void aPhotoIsShownAndAPaperOnlyHandedOutAndNeitherToAnotherVineyard() throws Exception {
        byte[] pdf = "%PDF-1.7 a delivery note".getBytes(StandardCharsets.US_ASCII);
        UUID paper = vineyard.inside(() -> pictures.keep(pdf));
        byte[] jpeg = image("jpg", 60, 40);
        UUID photo = vineyard.inside(() -> pictures.keep(jpeg));

        var shown = vineyard.as(Role.READER)
                .open("/pictures/" + photo + "/small")
                .raw()
                .getResponse();
        assertThat(shown.getStatus()).isEqualTo(200);
        assertThat(shown.getContentType()).isEqualTo("image/jpeg");
        assertThat(shown.getHeader("X-Content-Type-Options")).isEqualTo("nosniff");
        var handed = vineyard.as(Role.READER).open("/pictures/" + paper).raw().getResponse();
        assertThat(handed.getContentAsByteArray()).isEqualTo(pdf);
        assertThat(handed.getHeader("Content-Disposition")).startsWith("attachment");
        assertThat(handed.getHeader("Content-Security-Policy")).contains("sandbox");
        assertThat(vineyard.as(Role.READER)
                        .open("/pictures/" + paper + "/small")
                        .status())
                .isEqualTo(404);
        assertThat(vineyards.fresh().as(Role.OWNER).open("/pictures/" + photo).status())
                .isEqualTo(404);
    }

    private void refused(byte[] upload) {
        assertThatThrownBy(() -> vineyard.inside(() -> pictures.keep(upload)))
                .isInstanceOf(Refused.class)
                .hasMessage("platform.picture.unreadable");
    }

    /** Left half red, right half blue. */
    private static byte[] image(String format, int width, int height) throws Exception {
        BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
        var pen = image.createGraphics();
        pen.setColor(Color.RED);
        pen.fillRect(0, 0, width / 2, height);
        pen.setColor(Color.BLUE);
        pen.fillRect(width / 2, 0, width - width / 2, height);
        pen.dispose();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ImageIO.write(image, format, out);
        return out.toByteArray();
    }

    /** Puts an Exif segment with orientation 6 and a place in the stead of the JFIF segment, as cameras write it. */
    private static byte[] withExif(byte[] jpeg) {
        byte[] place = "47.1234 N".getBytes(StandardCharsets.US_ASCII);
        ByteBuffer tiff = ByteBuffer.allocate(8 + 2 + 12 + 4 + place.length);
        tiff.put((byte) 'M').put((byte) 'M').putShort((short) 42).putInt(8);
        tiff.putShort((short) 1);
        tiff.putShort((short) 0x0112)
                .putShort((short) 3)
                .putInt(1)
                .putShort((short) 6)
                .putShort((short) 0);
        tiff.putInt(0).put(place);
        byte[] name = "Exif\0\0".getBytes(StandardCharsets.US_ASCII);
        int jfif = 4 + (jpeg[5] & 0xFF);
        ByteBuffer out = ByteBuffer.allocate(jpeg.length - jfif + 2 + 4 + name.length + tiff.capacity());
        out.put(jpeg, 0, 2).put((byte) 0xFF).put((byte) 0xE1);
        out.putShort((short) (2 + name.length + tiff.capacity())).put(name).put(tiff.array());
        out.put(jpeg, jfif, jpeg.length - jfif);
        return out.array();
    }

    private static byte[] pngHeader(int width, int height) {
        ByteBuffer out = ByteBuffer.allocate(8 + 25);
        out.put(new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10});
        out.putInt(13);
        ByteBuffer head = ByteBuffer.allocate(17);
        head.put("IHDR".getBytes(StandardCharsets.US_ASCII)).putInt(width).putInt(height);
        head.put(new byte[] {8, 2, 0, 0, 0});
        CRC32 sum = new CRC32();
        sum.update(head.array());
        out.put(head.array()).putInt((int) sum.getValue());
        return out.array();
    }
}
