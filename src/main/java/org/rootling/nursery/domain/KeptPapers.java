package org.rootling.nursery.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.StockPapers;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Pictures;
import org.rootling.platform.Refused;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.web.multipart.MultipartFile;

/** Photos and PDFs of labels, delivery notes and invoices. What is withdrawn is kept, marked, and no longer shown. */
@Component
@Transactional
public class KeptPapers implements StockPapers {

    /** What a photo or PDF is of. */
    public enum What {
        LABEL,
        DELIVERY_NOTE,
        INVOICE,
        CREDIT_NOTE,
        OTHER
    }

    /**
     * A photo or PDF that is kept.
     *
     * @param deliveryLineId the line it belongs to; null for the whole delivery
     * @param photo whether it is a photo; else it is a PDF
     */
    public record Paper(
            UUID id,
            UUID deliveryId,
            @Nullable UUID deliveryLineId,
            UUID pictureId,
            boolean photo,
            What what,
            LocalDate addedOn) {}

    private final Pictures pictures;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;

    KeptPapers(Pictures pictures, Vineyards vineyards, JdbcClient jdbc) {
        this.pictures = pictures;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
    }

    /** Keeps a photo or PDF of a delivery, or of one lot of it. */
    public void keep(UUID deliveryId, @Nullable UUID lotId, What what, @Nullable MultipartFile file) {
        requireDelivery(deliveryId, lotId);
        UUID picture;
        try {
            picture = pictures.keepIfGiven(file);
        } catch (Refused refused) {
            throw refused.at("file");
        }
        if (picture == null) {
            throw new Refused("nursery.form.needed").at("file");
        }
        store(deliveryId, lotId, what, picture);
    }

    @Override
    public void keepLabel(UUID lotId, byte[] photoOrPaper) {
        UUID delivery =
                jdbc.sql("""
                        select dl.delivery_id from lot l
                          join delivery_line dl on dl.vineyard_id = l.vineyard_id and dl.id = l.delivery_line_id
                         where l.id = :lot
                        """).param("lot", lotId).query(UUID.class).optional().orElseThrow(() -> new NotFound("lot"));
        store(delivery, lotId, What.LABEL, pictures.keep(photoOrPaper));
    }

    private void store(UUID deliveryId, @Nullable UUID lotId, What what, UUID picture) {
        jdbc.sql("""
                        insert into stock_paper (id, delivery_id, lot_id, picture_id, what, added_on)
                        values (:id, :delivery, cast(:lot as uuid), :picture, :what, :on)
                        """)
                .param("id", Ids.next())
                .param("delivery", deliveryId)
                .param("lot", lotId)
                .param("picture", picture)
                .param("what", what.name())
                .param("on", vineyards.today())
                .update();
    }

    private void requireDelivery(UUID deliveryId, @Nullable UUID lotId) {
        boolean there = jdbc.sql("""
                        select exists (select 1 from delivery d
                          where d.id = :delivery and (cast(:lot as uuid) is null or exists (
                            select 1 from lot l
                              join delivery_line dl on dl.vineyard_id = l.vineyard_id and dl.id = l.delivery_line_id
                             where l.id = cast(:lot as uuid) and dl.delivery_id = d.id)))
                        """)
                .param("delivery", deliveryId)
                .param("lot", lotId)
                .query(Boolean.class)
                .single();
        if (!there) {
            throw new NotFound("delivery");
        }
    }

    /** Takes one back that was added by mistake; answers which delivery it was of. */
    public UUID withdraw(UUID id) {
        return jdbc.sql("""
                        update stock_paper set withdrawn_at = :now, version = version + 1
                         where id = :id and withdrawn_at is null returning delivery_id
                        """)
                .param("now", java.sql.Timestamp.from(vineyards.now()))
                .param("id", id)
                .query(UUID.class)
                .optional()
                .orElseThrow(() -> new NotFound("paper"));
    }

    /** All of a delivery: its own and those of its lots. */
    @Transactional(readOnly = true)
    public List<Paper> ofDelivery(UUID deliveryId) {
        return where("p.delivery_id = :id", Map.of("id", deliveryId));
    }

    /** Those of a lot, of what it was split off from, and of the delivery they came with. */
    @Transactional(readOnly = true)
    public List<Paper> ofLot(UUID lotId) {
        return where("""
                p.delivery_id = (select o.delivery_id from delivery_line o
                  join lot m on m.vineyard_id = o.vineyard_id and m.delivery_line_id = o.id where m.id = :id)
                  and (p.lot_id is null
                    or l.delivery_line_id = (select m.delivery_line_id from lot m where m.id = :id))
                """, Map.of("id", lotId));
    }

    /** All there are. */
    @Transactional(readOnly = true)
    public List<Paper> all() {
        return where("true", Map.of());
    }

    private List<Paper> where(String condition, Map<String, ?> parameters) {
        return jdbc.sql("""
                        select p.id, p.delivery_id, l.delivery_line_id, p.picture_id, k.kind = 'PHOTO' as photo, p.what,
                               p.added_on
                          from stock_paper p
                          join picture k on k.vineyard_id = p.vineyard_id and k.id = p.picture_id
                          left join lot l on l.vineyard_id = p.vineyard_id and l.id = p.lot_id
                         where p.withdrawn_at is null and\s""" + condition + " order by p.what = 'LABEL' desc, p.id")
                .params(parameters)
                .query((rs, n) -> new Paper(
                        rs.getObject("id", UUID.class),
                        rs.getObject("delivery_id", UUID.class),
                        rs.getObject("delivery_line_id", UUID.class),
                        rs.getObject("picture_id", UUID.class),
                        rs.getBoolean("photo"),
                        What.valueOf(rs.getString("what")),
                        rs.getObject("added_on", LocalDate.class)))
                .list();
    }
}
