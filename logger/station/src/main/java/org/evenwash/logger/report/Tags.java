package org.evenwash.logger.report;

import java.io.IOException;
import java.util.HashMap;
import java.util.Map;
import org.apache.pdfbox.cos.COSArray;
import org.apache.pdfbox.cos.COSDictionary;
import org.apache.pdfbox.cos.COSInteger;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import org.apache.pdfbox.pdmodel.common.PDNumberTreeNode;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDMarkInfo;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureTreeRoot;
import org.apache.pdfbox.pdmodel.documentinterchange.markedcontent.PDPropertyList;

/** The structure of a PDF as a screen reader walks it: headings, paragraphs, tables, pictures. */
final class Tags {
    private final PDStructureTreeRoot root = new PDStructureTreeRoot();
    private final PDStructureElement all;
    private final Map<PDPage, COSArray> marked = new HashMap<>();
    private final COSArray numbers = new COSArray();
    private final PDDocument document;

    Tags(PDDocument document, String language) {
        this.document = document;
        document.getDocumentCatalog().setStructureTreeRoot(root);
        document.getDocumentCatalog().setLanguage(language);
        PDMarkInfo info = new PDMarkInfo();
        info.setMarked(true);
        document.getDocumentCatalog().setMarkInfo(info);
        all = new PDStructureElement("Document", root);
        root.appendKid(all);
    }

    PDStructureElement document() {
        return all;
    }

    /** A new element beneath {@code parent}, such as {@code P} or {@code TD}. */
    static PDStructureElement under(PDStructureElement parent, String type) {
        PDStructureElement element = new PDStructureElement(type, parent);
        parent.appendKid(element);
        return element;
    }

    /** Begins content of an element on a page; {@link PDPageContentStream#endMarkedContent} ends it. */
    void begin(PDPageContentStream out, PDPage page, PDStructureElement element)
            throws IOException {
        COSArray ofPage = marked.get(page);
        if (ofPage == null) {
            ofPage = new COSArray();
            page.setStructParents(marked.size());
            numbers.add(COSInteger.get(marked.size()));
            numbers.add(ofPage);
            marked.put(page, ofPage);
        }
        int id = ofPage.size();
        ofPage.add(element);
        COSDictionary properties = new COSDictionary();
        properties.setInt(COSName.MCID, id);
        out.beginMarkedContent(
                COSName.getPDFName(element.getStructureType()), PDPropertyList.create(properties));
        COSDictionary reference = new COSDictionary();
        reference.setItem(COSName.TYPE, COSName.getPDFName("MCR"));
        reference.setItem(COSName.PG, page);
        reference.setInt(COSName.MCID, id);
        kids(element).add(reference);
    }

    private static COSArray kids(PDStructureElement element) {
        if (element.getCOSObject().getDictionaryObject(COSName.K) instanceof COSArray kids) {
            return kids;
        }
        COSArray kids = new COSArray();
        if (element.getCOSObject().getDictionaryObject(COSName.K) != null) {
            kids.add(element.getCOSObject().getItem(COSName.K));
        }
        element.getCOSObject().setItem(COSName.K, kids);
        return kids;
    }

    /** Ties pages to their elements; once, at the end. */
    void close() {
        COSDictionary tree = new COSDictionary();
        tree.setItem(COSName.NUMS, numbers);
        root.setParentTree(new PDNumberTreeNode(tree, COSDictionary.class));
        root.setParentTreeNextKey(marked.size());
        document.getDocumentCatalog().setStructureTreeRoot(root);
    }
}
