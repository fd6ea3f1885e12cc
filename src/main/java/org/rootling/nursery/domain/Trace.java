package org.rootling.nursery.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.PlantedOf;
import org.rootling.nursery.PlantedOf.Stand;
import org.rootling.nursery.Stock.Passport;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** From a plant passport to every place its vines stand in now, and back. */
@Component
public class Trace {

    /**
     * A lot with its papers and where its vines are.
     *
     * @param registration the nursery's own registration number
     */
    public record Line(
            Lot lot,
            Passport passport,
            @Nullable String registration,
            @Nullable String deliveryNoteNo,
            @Nullable String invoiceNo,
            LocalDate received,
            List<KeptPapers.Paper> kept,
            List<Stand> stands) {}

    private record Papers(
            Passport passport,
            @Nullable String registration,
            @Nullable String deliveryNoteNo,
            @Nullable String invoiceNo,
            UUID deliveryId,
            UUID deliveryLineId) {}

    private final Lots lots;
    private final ObjectProvider<PlantedOf> planted;
    private final KeptPapers keptPapers;
    private final JdbcClient jdbc;

    Trace(Lots lots, ObjectProvider<PlantedOf> planted, KeptPapers keptPapers, JdbcClient jdbc) {
        this.lots = lots;
        this.planted = planted;
        this.keptPapers = keptPapers;
        this.jdbc = jdbc;
    }

    /** Every lot, or those whose passport's traceability code is the one asked. */
    @Transactional(readOnly = true)
    public List<Line> lines(@Nullable String trace) {
        Map<UUID, Papers> papers = papers();
        List<Lot> all = lots.all().stream()
                .filter(l -> trace == null || trace.isBlank() || trace.strip().equalsIgnoreCase(l.passport()))
                .toList();
        Map<UUID, List<Stand>> stands = new HashMap<>();
        List<UUID> ids = all.stream().map(Lot::id).toList();
        planted.stream()
                .flatMap(p -> p.standsOf(ids).stream())
                .forEach(s -> stands.computeIfAbsent(s.lotId(), l -> new ArrayList<>())
                        .add(s));
        List<KeptPapers.Paper> kept = keptPapers.all();
        List<Line> lines = new ArrayList<>();
        for (Lot lot : all) {
            Papers of = papers.get(lot.id());
            if (of != null) {
                lines.add(new Line(
                        lot,
                        of.passport(),
                        of.registration(),
                        of.deliveryNoteNo(),
                        of.invoiceNo(),
                        lot.received(),
                        kept.stream().filter(p -> belongs(p, of)).toList(),
                        stands.getOrDefault(lot.id(), List.of())));
            }
        }
        return lines;
    }

    private static boolean belongs(KeptPapers.Paper paper, Papers of) {
        UUID line = paper.deliveryLineId();
        return line == null ? paper.deliveryId().equals(of.deliveryId()) : line.equals(of.deliveryLineId());
    }

    private Map<UUID, Papers> papers() {
        Map<UUID, Papers> papers = new HashMap<>();
        jdbc.sql("""
                        select l.id, l.passport_botanical, l.passport_registration, l.passport_trace, l.passport_origin,
                               l.passport_extra, n.registration_no, d.delivery_note_no, d.invoice_no, d.id as delivery_id, l.delivery_line_id
                          from lot l
                          join delivery_line dl on dl.vineyard_id = l.vineyard_id and dl.id = l.delivery_line_id
                          join delivery d on d.vineyard_id = dl.vineyard_id and d.id = dl.delivery_id
                          join supplier n on n.vineyard_id = d.vineyard_id and n.id = d.supplier_id
                        """)
                .query((rs, n) -> papers.put(
                        rs.getObject("id", UUID.class),
                        new Papers(
                                new Passport(
                                        rs.getString("passport_botanical"),
                                        rs.getString("passport_registration"),
                                        rs.getString("passport_trace"),
                                        rs.getString("passport_origin"),
                                        rs.getString("passport_extra")),
                                rs.getString("registration_no"),
                                rs.getString("delivery_note_no"),
                                rs.getString("invoice_no"),
                                rs.getObject("delivery_id", UUID.class),
                                rs.getObject("delivery_line_id", UUID.class))))
                .list();
        return papers;
    }
}
