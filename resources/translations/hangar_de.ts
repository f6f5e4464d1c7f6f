<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de_DE" sourcelanguage="en">
  <context>
    <name>words</name>
    <message>
      <source> ({count} aircraft still to be judged)</source>
      <translation> ({count} Flugzeuge noch zu beurteilen)</translation>
    </message>
    <message>
      <source> Load: full line design, dashed line expected, shaded its band; dotted lines today.</source>
      <translation> Last: volle Linie Auslegung, gestrichelt erwartet, schattiert das Band; gepunktet heute.</translation>
    </message>
    <message>
      <source> of {count}</source>
      <translation> von {count}</translation>
    </message>
    <message>
      <source> or </source>
      <translation> oder </translation>
    </message>
    <message>
      <source>&amp;About</source>
      <translation>W&amp;orum es geht</translation>
    </message>
    <message>
      <source>&amp;About Hangar…</source>
      <translation>Ü&amp;ber Hangar…</translation>
    </message>
    <message>
      <source>&amp;Add a stage</source>
      <translation>Ab&amp;schnitt hinzufügen</translation>
    </message>
    <message>
      <source>&amp;Add line</source>
      <translation>Zeile &amp;zufügen</translation>
    </message>
    <message>
      <source>&amp;Add photos or papers…</source>
      <translation>Fotos oder Papiere &amp;zufügen…</translation>
    </message>
    <message>
      <source>&amp;Add…</source>
      <translation>&amp;Neu…</translation>
    </message>
    <message>
      <source>&amp;Aircraft</source>
      <translation>&amp;Flugzeug</translation>
    </message>
    <message>
      <source>&amp;At</source>
      <translation>Be&amp;i</translation>
    </message>
    <message>
      <source>&amp;Back to today</source>
      <translation>&amp;Zurück zu heute</translation>
    </message>
    <message>
      <source>&amp;Bars</source>
      <translation>Bal&amp;ken</translation>
    </message>
    <message>
      <source>&amp;Bring in my own tables</source>
      <translation>Eigene &amp;Tabellen einlesen</translation>
    </message>
    <message>
      <source>&amp;Bring in tables…</source>
      <translation>Tabellen &amp;einlesen…</translation>
    </message>
    <message>
      <source>&amp;Budget for the fleet…</source>
      <translation>Budget für die &amp;Flotte…</translation>
    </message>
    <message>
      <source>&amp;Changes made…</source>
      <translation>&amp;Änderungen…</translation>
    </message>
    <message>
      <source>&amp;Class</source>
      <translation>&amp;Klasse</translation>
    </message>
    <message>
      <source>&amp;Close the snag…</source>
      <translation>Mangel &amp;schließen…</translation>
    </message>
    <message>
      <source>&amp;Colours</source>
      <translation>&amp;Farben</translation>
    </message>
    <message>
      <source>&amp;Copy the table</source>
      <translation>Tabelle &amp;kopieren</translation>
    </message>
    <message>
      <source>&amp;Dark</source>
      <translation>&amp;Dunkel</translation>
    </message>
    <message>
      <source>&amp;Edit</source>
      <translation>&amp;Bearbeiten</translation>
    </message>
    <message>
      <source>&amp;Enter a filled sheet…</source>
      <translation>Aus&amp;gefülltes Blatt eingeben…</translation>
    </message>
    <message>
      <source>&amp;Enter it…</source>
      <translation>&amp;Eintragen…</translation>
    </message>
    <message>
      <source>&amp;File</source>
      <translation>&amp;Datei</translation>
    </message>
    <message>
      <source>&amp;First free label</source>
      <translation>&amp;Erstes freies Etikett</translation>
    </message>
    <message>
      <source>&amp;Gauges for leads (AWG)</source>
      <translation>&amp;Querschnitte der Kabel (AWG)</translation>
    </message>
    <message>
      <source>&amp;Go to</source>
      <translation>&amp;Gehe zu</translation>
    </message>
    <message>
      <source>&amp;Guide to Hangar</source>
      <translation>&amp;Anleitung zu Hangar</translation>
    </message>
    <message>
      <source>&amp;Help</source>
      <translation>&amp;Hilfe</translation>
    </message>
    <message>
      <source>&amp;How was this number made?	Ctrl+H</source>
      <translation>&amp;Wie kam diese Zahl zustande?	Ctrl+H</translation>
    </message>
    <message>
      <source>&amp;In stages…</source>
      <translation>&amp;In Abschnitten…</translation>
    </message>
    <message>
      <source>&amp;Keep as a plan</source>
      <translation>Als &amp;Plan behalten</translation>
    </message>
    <message>
      <source>&amp;Keep as plans</source>
      <translation>Als Plä&amp;ne behalten</translation>
    </message>
    <message>
      <source>&amp;Keep as separate plans</source>
      <translation>Als einzelne &amp;Pläne behalten</translation>
    </message>
    <message>
      <source>&amp;Keep the new row</source>
      <translation>Neue Zeile be&amp;halten</translation>
    </message>
    <message>
      <source>&amp;Keep these readings</source>
      <translation>Diese Werte &amp;behalten</translation>
    </message>
    <message>
      <source>&amp;Label sheet</source>
      <translation>Etike&amp;ttenbogen</translation>
    </message>
    <message>
      <source>&amp;Language</source>
      <translation>&amp;Sprache</translation>
    </message>
    <message>
      <source>&amp;Length of the flight</source>
      <translation>&amp;Flugdauer</translation>
    </message>
    <message>
      <source>&amp;Like the system</source>
      <translation>&amp;Wie das System</translation>
    </message>
    <message>
      <source>&amp;Load at the arm</source>
      <translation>&amp;Last am Arm</translation>
    </message>
    <message>
      <source>&amp;Log a flight…</source>
      <translation>&amp;Flug eintragen…</translation>
    </message>
    <message>
      <source>&amp;Log it</source>
      <translation>&amp;Eintragen</translation>
    </message>
    <message>
      <source>&amp;Lose the changes</source>
      <translation>Änderungen &amp;verwerfen</translation>
    </message>
    <message>
      <source>&amp;Most added mass</source>
      <translation>Größte &amp;Mehrmasse</translation>
    </message>
    <message>
      <source>&amp;Neutral</source>
      <translation>&amp;Neutral</translation>
    </message>
    <message>
      <source>&amp;New fleet…</source>
      <translation>&amp;Neue Flotte…</translation>
    </message>
    <message>
      <source>&amp;New plan</source>
      <translation>&amp;Neuer Plan</translation>
    </message>
    <message>
      <source>&amp;New position…</source>
      <translation>&amp;Neue Position…</translation>
    </message>
    <message>
      <source>&amp;Next page</source>
      <translation>&amp;Nächste Seite</translation>
    </message>
    <message>
      <source>&amp;Note</source>
      <translation>&amp;Notiz</translation>
    </message>
    <message>
      <source>&amp;Open a fleet</source>
      <translation>Flotte ö&amp;ffnen</translation>
    </message>
    <message>
      <source>&amp;Open fleet…</source>
      <translation>Flotte ö&amp;ffnen…</translation>
    </message>
    <message>
      <source>&amp;Open in the viewer</source>
      <translation>&amp;Im Betrachter öffnen</translation>
    </message>
    <message>
      <source>&amp;Open on the board</source>
      <translation>Auf dem Brett ö&amp;ffnen</translation>
    </message>
    <message>
      <source>&amp;Pause</source>
      <translation>&amp;Pause</translation>
    </message>
    <message>
      <source>&amp;Play</source>
      <translation>Abs&amp;pielen</translation>
    </message>
    <message>
      <source>&amp;Print</source>
      <translation>&amp;Drucken</translation>
    </message>
    <message>
      <source>&amp;Print all field sheets…</source>
      <translation>Alle &amp;Feldblätter drucken…</translation>
    </message>
    <message>
      <source>&amp;Print the list…</source>
      <translation>Liste dr&amp;ucken…</translation>
    </message>
    <message>
      <source>&amp;Put the backup in its place</source>
      <translation>Sicherung an ihre Stelle &amp;setzen</translation>
    </message>
    <message>
      <source>&amp;Quarantine</source>
      <translation>&amp;Quarantäne</translation>
    </message>
    <message>
      <source>&amp;Quit</source>
      <translation>&amp;Beenden</translation>
    </message>
    <message>
      <source>&amp;Race</source>
      <translation>W&amp;ettlauf</translation>
    </message>
    <message>
      <source>&amp;Raise a snag…</source>
      <translation>&amp;Mangel melden…</translation>
    </message>
    <message>
      <source>&amp;Redo</source>
      <translation>&amp;Wiederherstellen</translation>
    </message>
    <message>
      <source>&amp;Remarks</source>
      <translation>Be&amp;merkungen</translation>
    </message>
    <message>
      <source>&amp;Remove</source>
      <translation>&amp;Entfernen</translation>
    </message>
    <message>
      <source>&amp;Remove line</source>
      <translation>Zeile &amp;entfernen</translation>
    </message>
    <message>
      <source>&amp;Remove linkage</source>
      <translation>Anlenkung &amp;entfernen</translation>
    </message>
    <message>
      <source>&amp;Restore a backup…</source>
      <translation>&amp;Sicherung zurückholen…</translation>
    </message>
    <message>
      <source>&amp;Restore what was shipped</source>
      <translation>Auslieferungswert her&amp;stellen</translation>
    </message>
    <message>
      <source>&amp;Same again</source>
      <translation>&amp;Noch einmal</translation>
    </message>
    <message>
      <source>&amp;Save a copy…</source>
      <translation>&amp;Kopie speichern…</translation>
    </message>
    <message>
      <source>&amp;Search</source>
      <translation>&amp;Suchen</translation>
    </message>
    <message>
      <source>&amp;Search for a refit…</source>
      <translation>Umbau &amp;suchen…</translation>
    </message>
    <message>
      <source>&amp;Sheet</source>
      <translation>&amp;Blatt</translation>
    </message>
    <message>
      <source>&amp;Show also what is due after {count} days</source>
      <translation>Auch &amp;zeigen, was nach {count} Tagen fällig wird</translation>
    </message>
    <message>
      <source>&amp;Source</source>
      <translation>&amp;Quelle</translation>
    </message>
    <message>
      <source>&amp;Stop</source>
      <translation>&amp;Anhalten</translation>
    </message>
    <message>
      <source>&amp;Tag</source>
      <translation>&amp;Kennung</translation>
    </message>
    <message>
      <source>&amp;Take off</source>
      <translation>A&amp;usbauen</translation>
    </message>
    <message>
      <source>&amp;Take tables out…</source>
      <translation>Tabellen &amp;ausgeben…</translation>
    </message>
    <message>
      <source>&amp;Take the good rows</source>
      <translation>Gute Zeilen &amp;übernehmen</translation>
    </message>
    <message>
      <source>&amp;Undo</source>
      <translation>&amp;Rückgängig</translation>
    </message>
    <message>
      <source>&amp;Units</source>
      <translation>&amp;Einheiten</translation>
    </message>
    <message>
      <source>&amp;Use in the checks</source>
      <translation>Für die &amp;Prüfungen nehmen</translation>
    </message>
    <message>
      <source>&amp;View</source>
      <translation>&amp;Ansicht</translation>
    </message>
    <message>
      <source>&amp;Where has it been?</source>
      <translation>&amp;Wo war es?</translation>
    </message>
    <message>
      <source>&amp;Where it holds</source>
      <translation>&amp;Wo es gilt</translation>
    </message>
    <message>
      <source>&amp;Why not</source>
      <translation>&amp;Warum nicht</translation>
    </message>
    <message>
      <source>&amp;Work out the stages</source>
      <translation>Abschnitte aus&amp;rechnen</translation>
    </message>
    <message>
      <source>, in use by {who}</source>
      <translation>, belegt von {who}</translation>
    </message>
    <message>
      <source>1 &amp;Aircraft</source>
      <translation>1 &amp;Flugzeug</translation>
    </message>
    <message>
      <source>1 ball</source>
      <translation>1 Kugel</translation>
    </message>
    <message>
      <source>1 plan</source>
      <translation>1 Plan</translation>
    </message>
    <message>
      <source>2 &amp;Packs</source>
      <translation>2 &amp;Akkus</translation>
    </message>
    <message>
      <source>2 ball</source>
      <translation>2 Kugeln</translation>
    </message>
    <message>
      <source>2 to 6 characters; prints on labels</source>
      <translation>2 bis 6 Zeichen; steht auf Etiketten</translation>
    </message>
    <message>
      <source>3 &amp;Minutes</source>
      <translation>3 &amp;Minuten</translation>
    </message>
    <message>
      <source>3D aerobatic aeroplane</source>
      <translation>3D-Kunstflugmodell</translation>
    </message>
    <message>
      <source>4-servo</source>
      <translation>4 Servos</translation>
    </message>
    <message>
      <source>60° in</source>
      <translation>60° in</translation>
    </message>
    <message>
      <source>A computed load is an estimate; the band shows how sure it is.</source>
      <translation>Eine gerechnete Last ist eine Schätzung; das Band zeigt, wie sicher sie ist.</translation>
    </message>
    <message>
      <source>A copy was saved to {path}.</source>
      <translation>Eine Kopie wurde in {path} gespeichert.</translation>
    </message>
    <message>
      <source>A file that ends in .hangar.</source>
      <translation>Eine Datei, die auf .hangar endet.</translation>
    </message>
    <message>
      <source>A flight of {found} is not drawn; allowed are 30 s to 2 h.</source>
      <translation>Ein Flug von {found} wird nicht gezeichnet; erlaubt sind 30 s bis 2 h.</translation>
    </message>
    <message>
      <source>A lead costs</source>
      <translation>Eine Leitung kostet</translation>
    </message>
    <message>
      <source>A line through the readings needs four of them.</source>
      <translation>Eine Linie durch die Messwerte braucht vier davon.</translation>
    </message>
    <message>
      <source>A new one, without a tag yet</source>
      <translation>Ein neues, noch ohne Kennung</translation>
    </message>
    <message>
      <source>A plan can hold all that was changed here.</source>
      <translation>Ein Plan kann alles aufnehmen, was hier geändert wurde.</translation>
    </message>
    <message>
      <source>A plan cannot hold: {what}.</source>
      <translation>Ein Plan kann nicht aufnehmen: {what}.</translation>
    </message>
    <message>
      <source>A row about "{item}" for {where} is there already; change that one.</source>
      <translation>Eine Zeile über „{item}“ für {where} gibt es schon; ändern Sie diese.</translation>
    </message>
    <message>
      <source>A spreadsheet or CSV files become a fleet; rows that cannot be read are listed.</source>
      <translation>Eine Tabelle oder CSV-Dateien werden zur Flotte; unlesbare Zeilen werden aufgeführt.</translation>
    </message>
    <message>
      <source>A steady load, full drive all the way; from the rated torque and speed.</source>
      <translation>Gleichbleibende Last, voller Antrieb bis zum Ende; aus Nenndrehmoment und Nenngeschwindigkeit.</translation>
    </message>
    <message>
      <source>A tag, a word, or a size such as 2000 mAh; Ctrl+F</source>
      <translation>Eine Kennung, ein Wort oder eine Größe wie 2000 mAh; Ctrl+F</translation>
    </message>
    <message>
      <source>A&amp;ngle</source>
      <translation>Wi&amp;nkel</translation>
    </message>
    <message>
      <source>About Hangar</source>
      <translation>Über Hangar</translation>
    </message>
    <message>
      <source>About Hangar and cautions</source>
      <translation>Über Hangar und Warnhinweise</translation>
    </message>
    <message>
      <source>About this list</source>
      <translation>Zu dieser Liste</translation>
    </message>
    <message>
      <source>Accept &amp;until</source>
      <translation>Annehmen b&amp;is</translation>
    </message>
    <message>
      <source>Accept in writing</source>
      <translation>Schriftlich annehmen</translation>
    </message>
    <message>
      <source>Accept until</source>
      <translation>Annehmen bis</translation>
    </message>
    <message>
      <source>Accept {rule}</source>
      <translation>{rule} annehmen</translation>
    </message>
    <message>
      <source>Accepted until {day}</source>
      <translation>Angenommen bis {day}</translation>
    </message>
    <message>
      <source>Across</source>
      <translation>Quer</translation>
    </message>
    <message>
      <source>Add a figure of law: {item}</source>
      <translation>Zahl des Rechts hinzufügen: {item}</translation>
    </message>
    <message>
      <source>Add line {number} to plan {code}</source>
      <translation>Zeile {number} dem Plan {code} zufügen</translation>
    </message>
    <message>
      <source>Add {what}</source>
      <translation>{what} zufügen</translation>
    </message>
    <message>
      <source>Add {what} {name}</source>
      <translation>{what} {name} zufügen</translation>
    </message>
    <message>
      <source>Added mass</source>
      <translation>Mehrmasse</translation>
    </message>
    <message>
      <source>After how many seconds</source>
      <translation>Nach wie vielen Sekunden</translation>
    </message>
    <message>
      <source>After the open lines</source>
      <translation>Nach den offenen Zeilen</translation>
    </message>
    <message>
      <source>After {time} s: old {old}, new {new}.</source>
      <translation>Nach {time} s: alt {old}, neu {new}.</translation>
    </message>
    <message>
      <source>Air speed of the load</source>
      <translation>Fluggeschwindigkeit der Last</translation>
    </message>
    <message>
      <source>Air&amp;craft</source>
      <translation>Flu&amp;gzeug</translation>
    </message>
    <message>
      <source>Aircraft of this fleet</source>
      <translation>Flugzeuge dieser Flotte</translation>
    </message>
    <message>
      <source>Aircraft shown</source>
      <translation>Gezeigtes Flugzeug</translation>
    </message>
    <message>
      <source>Aircraft to take along</source>
      <translation>Flugzeuge zum Mitnehmen</translation>
    </message>
    <message>
      <source>Airframe Folder</source>
      <translation>Flugzeugmappe</translation>
    </message>
    <message>
      <source>All classes</source>
      <translation>Alle Klassen</translation>
    </message>
    <message>
      <source>All co&amp;lumns</source>
      <translation>A&amp;lle Spalten</translation>
    </message>
    <message>
      <source>All fields</source>
      <translation>Alle Felder</translation>
    </message>
    <message>
      <source>All tables</source>
      <translation>Alle Tabellen</translation>
    </message>
    <message>
      <source>Allow {waste} % for waste. The same list is printed as File, Print, Cut list.</source>
      <translation>{waste} % für Verschnitt zugeben. Dieselbe Liste druckt Datei, Drucken, Zuschnittliste.</translation>
    </message>
    <message>
      <source>Allowed: {range}.</source>
      <translation>Erlaubt: {range}.</translation>
    </message>
    <message>
      <source>Also wanted by another plan: {tags}</source>
      <translation>Auch von einem anderen Plan gewünscht: {tags}</translation>
    </message>
    <message>
      <source>An arm costs</source>
      <translation>Ein Hebel kostet</translation>
    </message>
    <message>
      <source>An empty line takes what was shipped.</source>
      <translation>Eine leere Zeile nimmt den mitgelieferten Wert.</translation>
    </message>
    <message>
      <source>An estimate: ordinary flying, brisk stretches and short peaks as the load cases have them, from packs as charged as the load cases say. Measure in flight to know.</source>
      <translation>Eine Schätzung: ruhiges Fliegen, flotte Strecken und kurze Spitzen nach den Lastfällen, aus Akkus im Ladezustand der Lastfälle. Gewissheit gibt nur die Messung im Flug.</translation>
    </message>
    <message>
      <source>And {count} more.</source>
      <translation>Und {count} weitere.</translation>
    </message>
    <message>
      <source>Angle rod to arm</source>
      <translation>Winkel Gestänge zu Arm</translation>
    </message>
    <message>
      <source>Angle rod to horn (transmission angle)</source>
      <translation>Winkel Gestänge zu Ruderhorn (Übertragungswinkel)</translation>
    </message>
    <message>
      <source>Angle to turn</source>
      <translation>Drehwinkel</translation>
    </message>
    <message>
      <source>Any charge will do; keep it dry and charge it before use</source>
      <translation>Jeder Ladezustand ist recht; trocken lagern und vor Gebrauch laden</translation>
    </message>
    <message>
      <source>Any unit can be typed everywhere; these are the ones in which numbers are shown.</source>
      <translation>Überall lässt sich jede Einheit eingeben; in diesen werden Zahlen gezeigt.</translation>
    </message>
    <message>
      <source>Any unit can be typed; a bare number is in {unit}.</source>
      <translation>Jede Einheit ist erlaubt; eine bloße Zahl gilt in {unit}.</translation>
    </message>
    <message>
      <source>Arms</source>
      <translation>Arme</translation>
    </message>
    <message>
      <source>Arrow keys go from dot to dot, Space chooses, Enter fits a servo, Ctrl with an arrow key moves the dot.</source>
      <translation>Pfeiltasten gehen von Punkt zu Punkt, die Leertaste wählt, die Eingabetaste baut ein Servo ein, Strg mit einer Pfeiltaste verschiebt den Punkt.</translation>
    </message>
    <message>
      <source>As &amp;of</source>
      <translation>&amp;Stand</translation>
    </message>
    <message>
      <source>As of</source>
      <translation>Stand</translation>
    </message>
    <message>
      <source>As shipped</source>
      <translation>Ausgeliefert</translation>
    </message>
    <message>
      <source>At hand</source>
      <translation>Vorhanden</translation>
    </message>
    <message>
      <source>At its interval</source>
      <translation>Nach Frist</translation>
    </message>
    <message>
      <source>At {minutes} min: lowest {low}, highest current {amps}.</source>
      <translation>Bei {minutes} min: tiefste Spannung {low}, höchster Strom {amps}.</translation>
    </message>
    <message>
      <source>B&amp;udget for the whole fleet</source>
      <translation>B&amp;udget für die ganze Flotte</translation>
    </message>
    <message>
      <source>Back to the board</source>
      <translation>Zurück zum Brett</translation>
    </message>
    <message>
      <source>Back to {state}</source>
      <translation>Zurück zu {state}</translation>
    </message>
    <message>
      <source>Balance</source>
      <translation>Schwerpunkt</translation>
    </message>
    <message>
      <source>Balance {balance}</source>
      <translation>Schwerpunkt {balance}</translation>
    </message>
    <message>
      <source>Bars or numbers</source>
      <translation>Balken oder Zahlen</translation>
    </message>
    <message>
      <source>Basis</source>
      <translation>Grundlage</translation>
    </message>
    <message>
      <source>Battery Shelf</source>
      <translation>Akkuregal</translation>
    </message>
    <message>
      <source>Before the edit: {before}. At present: {fresh}.</source>
      <translation>Vor der Änderung: {before}. Derzeit: {fresh}.</translation>
    </message>
    <message>
      <source>Before the next step: {check}</source>
      <translation>Vor dem nächsten Schritt: {check}</translation>
    </message>
    <message>
      <source>Begi&amp;n an empty fleet</source>
      <translation>Mit &amp;leerer Flotte beginnen</translation>
    </message>
    <message>
      <source>Begin an empty fleet</source>
      <translation>Mit leerer Flotte beginnen</translation>
    </message>
    <message>
      <source>Begin plan {code}</source>
      <translation>Plan {code} beginnen</translation>
    </message>
    <message>
      <source>Begun</source>
      <translation>Begonnen</translation>
    </message>
    <message>
      <source>Bench checks</source>
      <translation>Werkbankprüfungen</translation>
    </message>
    <message>
      <source>Bench-checked by</source>
      <translation>Auf der Werkbank geprüft von</translation>
    </message>
    <message>
      <source>Best rating known</source>
      <translation>Beste bekannte Angabe</translation>
    </message>
    <message>
      <source>Blades and propellers in motion maim. Work on the set-up with blades off or the motor unplugged.</source>
      <translation>Laufende Blätter und Propeller verstümmeln. Einstellen nur ohne Blätter oder mit abgestecktem Motor.</translation>
    </message>
    <message>
      <source>Both are there after {time} s.</source>
      <translation>Beide sind nach {time} s da.</translation>
    </message>
    <message>
      <source>Boxes can be filled on a &amp;tablet</source>
      <translation>Felder am Tab&amp;let ausfüllbar</translation>
    </message>
    <message>
      <source>Boxes of the sheet</source>
      <translation>Felder des Blattes</translation>
    </message>
    <message>
      <source>Bring in tables</source>
      <translation>Tabellen einlesen</translation>
    </message>
    <message>
      <source>Bringing the tables in…</source>
      <translation>Tabellen werden eingelesen…</translation>
    </message>
    <message>
      <source>Bu&amp;dget</source>
      <translation>Bud&amp;get</translation>
    </message>
    <message>
      <source>Budget for the whole fleet</source>
      <translation>Budget für die ganze Flotte</translation>
    </message>
    <message>
      <source>Build sheet</source>
      <translation>Bauzettel</translation>
    </message>
    <message>
      <source>Bundle</source>
      <translation>Bündel</translation>
    </message>
    <message>
      <source>Bus at peak {before} → {after}</source>
      <translation>Bus bei Spitze {before} → {after}</translation>
    </message>
    <message>
      <source>Bus volts and current through the flight</source>
      <translation>Spannung und Strom der Versorgung im Flug</translation>
    </message>
    <message>
      <source>Bus volts at peak</source>
      <translation>Busspannung bei Spitze</translation>
    </message>
    <message>
      <source>Bus volts, regulator set to</source>
      <translation>Busspannung, Regler eingestellt auf</translation>
    </message>
    <message>
      <source>Buy</source>
      <translation>Kaufen</translation>
    </message>
    <message>
      <source>CRASH</source>
      <translation>ABSTURZ</translation>
    </message>
    <message>
      <source>Can be taken: {good}. Left out: {bad}.</source>
      <translation>Zu übernehmen: {good}. Ausgelassen: {bad}.</translation>
    </message>
    <message>
      <source>Can't tell today: the last load test is of {day}</source>
      <translation>Heute nicht zu sagen: die letzte Lastprüfung ist vom {day}</translation>
    </message>
    <message>
      <source>Can't tell: no load test to judge by</source>
      <translation>Nicht zu sagen: keine Lastprüfung vorhanden</translation>
    </message>
    <message>
      <source>Can't tell: nothing was measured</source>
      <translation>Nicht zu sagen: nichts gemessen</translation>
    </message>
    <message>
      <source>Can't tell: the last load test cannot be judged</source>
      <translation>Nicht zu sagen: die letzte Lastprüfung lässt sich nicht beurteilen</translation>
    </message>
    <message>
      <source>Can't tell: this reading cannot be judged</source>
      <translation>Nicht zu sagen: dieser Messwert lässt sich nicht beurteilen</translation>
    </message>
    <message>
      <source>Cannot be drawn. Not known: {what}.</source>
      <translation>Kann nicht gezeichnet werden. Nicht bekannt: {what}.</translation>
    </message>
    <message>
      <source>Cannot be judged: {codes}.</source>
      <translation>Nicht zu beurteilen: {codes}.</translation>
    </message>
    <message>
      <source>Cannot be judged; not on record: {what}</source>
      <translation>Nicht zu beurteilen; nicht verzeichnet: {what}</translation>
    </message>
    <message>
      <source>Cannot be worked out from the data entered.</source>
      <translation>Aus den eingetragenen Daten nicht zu berechnen.</translation>
    </message>
    <message>
      <source>Capacity over time</source>
      <translation>Kapazität über die Zeit</translation>
    </message>
    <message>
      <source>Capacity tests</source>
      <translation>Kapazitätsprüfungen</translation>
    </message>
    <message>
      <source>Cell readings</source>
      <translation>Zellenmesswerte</translation>
    </message>
    <message>
      <source>Cell volts: common practice, no source; the pack maker's sheet governs.</source>
      <translation>Zellenspannung: übliche Praxis, ohne Quelle; es gilt das Blatt des Akkuherstellers.</translation>
    </message>
    <message>
      <source>Cells</source>
      <translation>Zellen</translation>
    </message>
    <message>
      <source>Ch.</source>
      <translation>Kan.</translation>
    </message>
    <message>
      <source>Change</source>
      <translation>Änderung</translation>
    </message>
    <message>
      <source>Change a figure of law: {item}</source>
      <translation>Zahl des Rechts ändern: {item}</translation>
    </message>
    <message>
      <source>Change how risk is counted: {name}</source>
      <translation>Risiko anders zählen: {name}</translation>
    </message>
    <message>
      <source>Change {field} at {position}</source>
      <translation>{field} an {position} ändern</translation>
    </message>
    <message>
      <source>Change {field} of {what} {name}</source>
      <translation>{field} von {what} {name} ändern</translation>
    </message>
    <message>
      <source>Changes</source>
      <translation>Änderungen</translation>
    </message>
    <message>
      <source>Changes made</source>
      <translation>Getane Änderungen</translation>
    </message>
    <message>
      <source>Changes made to the fleet</source>
      <translation>Änderungen an der Flotte</translation>
    </message>
    <message>
      <source>Changes nothing.</source>
      <translation>Ändert nichts.</translation>
    </message>
    <message>
      <source>Charge for a flight</source>
      <translation>Ladung für einen Flug</translation>
    </message>
    <message>
      <source>Charge left in the packs</source>
      <translation>Restladung der Akkus</translation>
    </message>
    <message>
      <source>Charged</source>
      <translation>Geladen</translation>
    </message>
    <message>
      <source>Charged by</source>
      <translation>Geladen von</translation>
    </message>
    <message>
      <source>Charged drive packs in a fireproof box</source>
      <translation>Geladene Antriebsakkus in feuerfester Kiste</translation>
    </message>
    <message>
      <source>Charged last</source>
      <translation>Zuletzt geladen</translation>
    </message>
    <message>
      <source>Charged: fit for a full set of flights</source>
      <translation>Geladen: reicht für alle Flüge</translation>
    </message>
    <message>
      <source>Charged?</source>
      <translation>Geladen?</translation>
    </message>
    <message>
      <source>Charger set to {mode}, {cells} cells; {rate}; {ends}.</source>
      <translation>Ladegerät auf {mode}, {cells} Zellen; {rate}; {ends}.</translation>
    </message>
    <message>
      <source>Charger set up for {chemistry}</source>
      <translation>Ladegerät eingestellt für {chemistry}</translation>
    </message>
    <message>
      <source>Charges</source>
      <translation>Ladungen</translation>
    </message>
    <message>
      <source>Charging card</source>
      <translation>Ladekarte</translation>
    </message>
    <message>
      <source>Checked</source>
      <translation>Geprüft</translation>
    </message>
    <message>
      <source>Choose a position and a servo to compare.</source>
      <translation>Position und Servo zum Vergleich wählen.</translation>
    </message>
    <message>
      <source>Choose a spare, or type the tag of a part that is entered with this step.</source>
      <translation>Ein Lagerteil wählen oder die Kennung eines Teils tippen, das mit diesem Schritt eingetragen wird.</translation>
    </message>
    <message>
      <source>Choose an aircraft and a position.</source>
      <translation>Flugzeug und Position wählen.</translation>
    </message>
    <message>
      <source>Choose an aircraft first.</source>
      <translation>Zuerst ein Flugzeug wählen.</translation>
    </message>
    <message>
      <source>Choose an open snag in the log first.</source>
      <translation>Zuerst einen offenen Mangel im Buch wählen.</translation>
    </message>
    <message>
      <source>Choose any servo type of the library: one sentence says what stands against it.</source>
      <translation>Irgendeinen Servotyp der Bibliothek wählen: Ein Satz sagt, was dagegen spricht.</translation>
    </message>
    <message>
      <source>Choose countries and bodies</source>
      <translation>Länder und Verbände wählen</translation>
    </message>
    <message>
      <source>Choose the minutes of the flight, or type others.</source>
      <translation>Minuten des Fluges wählen oder andere eintippen.</translation>
    </message>
    <message>
      <source>Choose the money sign</source>
      <translation>Geldzeichen wählen</translation>
    </message>
    <message>
      <source>Choose the position that it would go to.</source>
      <translation>Die Position wählen, an die es käme.</translation>
    </message>
    <message>
      <source>Choose units</source>
      <translation>Einheiten wählen</translation>
    </message>
    <message>
      <source>Click on the trace, or use the arrow keys, to read a moment.</source>
      <translation>Ein Klick auf die Kurve oder die Pfeiltasten lesen einen Augenblick ab.</translation>
    </message>
    <message>
      <source>Click, or use the left and right arrow keys, to read a moment.</source>
      <translation>Ein Klick oder die Pfeiltasten links und rechts lesen einen Augenblick ab.</translation>
    </message>
    <message>
      <source>Close a snag</source>
      <translation>Mangel schließen</translation>
    </message>
    <message>
      <source>Close snag: {text}</source>
      <translation>Mangel schließen: {text}</translation>
    </message>
    <message>
      <source>Compare servos side by side</source>
      <translation>Servos nebeneinander vergleichen</translation>
    </message>
    <message>
      <source>Compare this servo with another one (Ctrl+Shift+S)</source>
      <translation>Dieses Servo mit einem anderen vergleichen (Strg+Umschalt+S)</translation>
    </message>
    <message>
      <source>Computed loads are estimates with a band. No open warnings on the data entered does not mean that nothing is wrong: Hangar knows only what was entered.</source>
      <translation>Gerechnete Lasten sind Schätzungen mit einem Band. Keine offenen Warnungen heißt nicht, dass alles in Ordnung ist: Hangar kennt nur, was eingetragen wurde.</translation>
    </message>
    <message>
      <source>Concerns</source>
      <translation>Betrifft</translation>
    </message>
    <message>
      <source>Copy details</source>
      <translation>Einzelheiten kopieren</translation>
    </message>
    <message>
      <source>Copy the table</source>
      <translation>Tabelle kopieren</translation>
    </message>
    <message>
      <source>Cost {cost}</source>
      <translation>Kosten {cost}</translation>
    </message>
    <message>
      <source>Cost, mass and balance</source>
      <translation>Kosten, Masse und Schwerpunkt</translation>
    </message>
    <message>
      <source>Could not be worked out: {why}</source>
      <translation>Nicht zu berechnen: {why}</translation>
    </message>
    <message>
      <source>Countries and bodies</source>
      <translation>Länder und Verbände</translation>
    </message>
    <message>
      <source>Countries and bodies shown</source>
      <translation>Gezeigte Länder und Verbände</translation>
    </message>
    <message>
      <source>Cures</source>
      <translation>Behebt</translation>
    </message>
    <message>
      <source>Current</source>
      <translation>Strom</translation>
    </message>
    <message>
      <source>Currents right</source>
      <translation>Ströme richtig</translation>
    </message>
    <message>
      <source>Cut list</source>
      <translation>Zuschnittliste</translation>
    </message>
    <message>
      <source>Date</source>
      <translation>Datum</translation>
    </message>
    <message>
      <source>Date of the release</source>
      <translation>Datum der Freigabe</translation>
    </message>
    <message>
      <source>Date, time</source>
      <translation>Datum, Uhrzeit</translation>
    </message>
    <message>
      <source>Day</source>
      <translation>Tag</translation>
    </message>
    <message>
      <source>Degrees of surface for each degree of arm; a click or the arrow keys go to a travel.</source>
      <translation>Grad am Ruder je Grad am Hebel; ein Klick oder die Pfeiltasten gehen zu einem Weg.</translation>
    </message>
    <message>
      <source>Direction right</source>
      <translation>Richtung richtig</translation>
    </message>
    <message>
      <source>Direction, full travel and centre right</source>
      <translation>Richtung, voller Weg und Mitte richtig</translation>
    </message>
    <message>
      <source>Do not fit it: {why}</source>
      <translation>Nicht einbauen: {why}</translation>
    </message>
    <message>
      <source>Do not fit {parts}: {why}</source>
      <translation>Nicht einbauen: {parts}. {why}</translation>
    </message>
    <message>
      <source>Do not fly before the warnings are cured</source>
      <translation>Nicht fliegen, bevor die Warnungen behoben sind</translation>
    </message>
    <message>
      <source>Do not make a first flight alone.</source>
      <translation>Keinen Erstflug allein machen.</translation>
    </message>
    <message>
      <source>Done</source>
      <translation>Erledigt</translation>
    </message>
    <message>
      <source>Done {day}</source>
      <translation>Erledigt {day}</translation>
    </message>
    <message>
      <source>Dot</source>
      <translation>Punkt</translation>
    </message>
    <message>
      <source>Down or right, degrees</source>
      <translation>Unten oder rechts, Grad</translation>
    </message>
    <message>
      <source>Down or right, millimetres</source>
      <translation>Unten oder rechts, Millimeter</translation>
    </message>
    <message>
      <source>Drag a servo onto a dot to fit it there; Enter fits it at the chosen position.</source>
      <translation>Ein Servo auf einen Punkt ziehen, um es dort einzubauen; Eingabe baut es an der gewählten Position ein.</translation>
    </message>
    <message>
      <source>Drag the arm or use the arrow keys; Home and End go to the ends, 0 to neutral, Space plays.</source>
      <translation>Arm ziehen oder Pfeiltasten; Pos1 und Ende gehen an die Enden, 0 zu neutral, Leertaste spielt ab.</translation>
    </message>
    <message>
      <source>Drawing the pages…</source>
      <translation>Die Seiten werden gezeichnet…</translation>
    </message>
    <message>
      <source>Drop</source>
      <translation>Verlust</translation>
    </message>
    <message>
      <source>Drop the plan</source>
      <translation>Plan fallen lassen</translation>
    </message>
    <message>
      <source>Ducted-fan jet</source>
      <translation>Impellerjet</translation>
    </message>
    <message>
      <source>Due</source>
      <translation>Fällig</translation>
    </message>
    <message>
      <source>Due List</source>
      <translation>Fälligkeiten</translation>
    </message>
    <message>
      <source>Due {day}: {what} {about}</source>
      <translation>Fällig {day}: {what} {about}</translation>
    </message>
    <message>
      <source>E&amp;nter a filled sheet…</source>
      <translation>Aus&amp;gefülltes Blatt eingeben…</translation>
    </message>
    <message>
      <source>E&amp;nter the test</source>
      <translation>Prüfung &amp;eintragen</translation>
    </message>
    <message>
      <source>Each</source>
      <translation>Je</translation>
    </message>
    <message>
      <source>Each at its &amp;true volts on this bus</source>
      <translation>Jedes bei seiner &amp;wahren Spannung an diesem Bus</translation>
    </message>
    <message>
      <source>Each at the volts it leaves itself on this bus: old {old}, new {new} at the servo. </source>
      <translation>Jedes bei der Spannung, die es sich an diesem Bus lässt: alt {old}, neu {new} am Servo. </translation>
    </message>
    <message>
      <source>End A</source>
      <translation>Ende A</translation>
    </message>
    <message>
      <source>End B</source>
      <translation>Ende B</translation>
    </message>
    <message>
      <source>End shrink</source>
      <translation>Endschlauch</translation>
    </message>
    <message>
      <source>Engine idle</source>
      <translation>Motor im Leerlauf</translation>
    </message>
    <message>
      <source>Enough
to</source>
      <translation>Genug
bis</translation>
    </message>
    <message>
      <source>Enter a filled sheet</source>
      <translation>Ausgefülltes Blatt eingeben</translation>
    </message>
    <message>
      <source>Enter a reading at {position}</source>
      <translation>Messwert an {position} eintragen</translation>
    </message>
    <message>
      <source>Enter an &amp;inspection…</source>
      <translation>Du&amp;rchsicht eintragen…</translation>
    </message>
    <message>
      <source>Enter goes down, Space ticks, any unit can be typed. Ctrl+Enter keeps it all.</source>
      <translation>Die Eingabetaste geht abwärts, die Leertaste hakt ab, jede Einheit darf getippt werden. Strg+Eingabe behält alles.</translation>
    </message>
    <message>
      <source>Enter inspection of {code}</source>
      <translation>Durchsicht von {code} eintragen</translation>
    </message>
    <message>
      <source>Enter load test of pack {tag}</source>
      <translation>Lastprüfung von Akku {tag} eintragen</translation>
    </message>
    <message>
      <source>Enter the first aircraft by hand.</source>
      <translation>Das erste Flugzeug von Hand eintragen.</translation>
    </message>
    <message>
      <source>Enter the tag of the part that goes in first.</source>
      <translation>Zuerst die Kennung des Teils eintragen, das hineinkommt.</translation>
    </message>
    <message>
      <source>Enter what was measured</source>
      <translation>Gemessenes eintragen</translation>
    </message>
    <message>
      <source>Enter {sheet} of {code}</source>
      <translation>{sheet} von {code} eingeben</translation>
    </message>
    <message>
      <source>Entry</source>
      <translation>Eintrag</translation>
    </message>
    <message>
      <source>Every aircraft ({count})</source>
      <translation>Alle Flugzeuge ({count})</translation>
    </message>
    <message>
      <source>Every change is carried out; nothing is left to put in stages.</source>
      <translation>Jede Änderung ist ausgeführt; für Abschnitte bleibt nichts übrig.</translation>
    </message>
    <message>
      <source>Every order was tried: proved best.</source>
      <translation>Jede Reihenfolge wurde versucht: erwiesen die beste.</translation>
    </message>
    <message>
      <source>Every proof is ticked and every reading entered.</source>
      <translation>Jeder Nachweis ist abgehakt und jeder Messwert eingetragen.</translation>
    </message>
    <message>
      <source>FAILED</source>
      <translation>DURCHGEFALLEN</translation>
    </message>
    <message>
      <source>Factor where it concerns: {what}</source>
      <translation>Faktor, wo es betrifft: {what}</translation>
    </message>
    <message>
      <source>Failsafe proved</source>
      <translation>Failsafe erprobt</translation>
    </message>
    <message>
      <source>Fast sailplane</source>
      <translation>Schneller Segler</translation>
    </message>
    <message>
      <source>Feeds</source>
      <translation>Speist</translation>
    </message>
    <message>
      <source>Fi&amp;gure</source>
      <translation>&amp;Zahl</translation>
    </message>
    <message>
      <source>Field checklist</source>
      <translation>Prüfliste fürs Feld</translation>
    </message>
    <message>
      <source>Fields</source>
      <translation>Felder</translation>
    </message>
    <message>
      <source>Fields changed</source>
      <translation>Geänderte Felder</translation>
    </message>
    <message>
      <source>Figures today and as tried</source>
      <translation>Zahlen heute und im Versuch</translation>
    </message>
    <message>
      <source>Files can be dropped here as well.</source>
      <translation>Dateien lassen sich auch hier ablegen.</translation>
    </message>
    <message>
      <source>Fill in the field of the chosen line (Enter)</source>
      <translation>Das Feld der gewählten Zeile ausfüllen (Eingabetaste)</translation>
    </message>
    <message>
      <source>Filter of aircraft</source>
      <translation>Filter der Flugzeuge</translation>
    </message>
    <message>
      <source>Filter of findings</source>
      <translation>Filter der Befunde</translation>
    </message>
    <message>
      <source>Filter of packs</source>
      <translation>Filter der Akkus</translation>
    </message>
    <message>
      <source>Filter of the log</source>
      <translation>Filter des Buchs</translation>
    </message>
    <message>
      <source>Filter of {table}</source>
      <translation>Filter von {table}</translation>
    </message>
    <message>
      <source>Finding</source>
      <translation>Befund</translation>
    </message>
    <message>
      <source>Findings and snags</source>
      <translation>Befunde und Mängel</translation>
    </message>
    <message>
      <source>Findings as tried</source>
      <translation>Befunde im Versuch</translation>
    </message>
    <message>
      <source>Findings before and after</source>
      <translation>Befunde vorher und nachher</translation>
    </message>
    <message>
      <source>Findings cured</source>
      <translation>Behobene Befunde</translation>
    </message>
    <message>
      <source>Findings follow every edit at once.</source>
      <translation>Die Befunde folgen jeder Änderung sofort.</translation>
    </message>
    <message>
      <source>Findings of the aircraft shown</source>
      <translation>Befunde der gezeigten Flugzeuge</translation>
    </message>
    <message>
      <source>Findings of this aircraft</source>
      <translation>Befunde dieses Flugzeugs</translation>
    </message>
    <message>
      <source>Findings that come</source>
      <translation>Befunde, die kommen</translation>
    </message>
    <message>
      <source>Findings that come and go</source>
      <translation>Befunde, die kommen und gehen</translation>
    </message>
    <message>
      <source>Findings that go</source>
      <translation>Befunde, die gehen</translation>
    </message>
    <message>
      <source>Findings today</source>
      <translation>Befunde heute</translation>
    </message>
    <message>
      <source>Findings: {gone} gone, {new} new</source>
      <translation>Befunde: {gone} weg, {new} neu</translation>
    </message>
    <message>
      <source>Findings: {when}</source>
      <translation>Befunde: {when}</translation>
    </message>
    <message>
      <source>Fire extinguisher, carbon dioxide</source>
      <translation>Feuerlöscher, Kohlendioxid</translation>
    </message>
    <message>
      <source>Fireproof bag and sand</source>
      <translation>Feuerfester Beutel und Sand</translation>
    </message>
    <message>
      <source>First</source>
      <translation>Zuerst</translation>
    </message>
    <message>
      <source>First free label</source>
      <translation>Erstes freies Etikett</translation>
    </message>
    <message>
      <source>Fit &amp;this step</source>
      <translation>Schritt aus&amp;führen</translation>
    </message>
    <message>
      <source>Fit a &amp;servo…</source>
      <translation>Servo &amp;einbauen…</translation>
    </message>
    <message>
      <source>Fit a servo at {place}</source>
      <translation>Servo an {place} einbauen</translation>
    </message>
    <message>
      <source>Fit it</source>
      <translation>Einbauen</translation>
    </message>
    <message>
      <source>Fit new servo {tag} at {position}</source>
      <translation>Neues Servo {tag} an {position} einbauen</translation>
    </message>
    <message>
      <source>Fit servo {tag} at {position}</source>
      <translation>Servo {tag} an {position} einbauen</translation>
    </message>
    <message>
      <source>Fit step {number}</source>
      <translation>Schritt {number} ausführen</translation>
    </message>
    <message>
      <source>Fit this step</source>
      <translation>Schritt ausführen</translation>
    </message>
    <message>
      <source>Fit: {what}</source>
      <translation>Ausführen: {what}</translation>
    </message>
    <message>
      <source>Fleet overview</source>
      <translation>Flottenübersicht</translation>
    </message>
    <message>
      <source>Fleets (*.hangar)</source>
      <translation>Flotten (*.hangar)</translation>
    </message>
    <message>
      <source>Flight Line</source>
      <translation>Startreihe</translation>
    </message>
    <message>
      <source>Flight mode</source>
      <translation>Flugphase</translation>
    </message>
    <message>
      <source>Flights since</source>
      <translation>Flüge seither</translation>
    </message>
    <message>
      <source>Flights today</source>
      <translation>Flüge heute</translation>
    </message>
    <message>
      <source>For</source>
      <translation>Für</translation>
    </message>
    <message>
      <source>Free
play</source>
      <translation>Freies
Spiel</translation>
    </message>
    <message>
      <source>Free play in all</source>
      <translation>Spiel im Ganzen</translation>
    </message>
    <message>
      <source>Free play right</source>
      <translation>Spiel richtig</translation>
    </message>
    <message>
      <source>From another place</source>
      <translation>Von anderer Stelle</translation>
    </message>
    <message>
      <source>From the Parts Bay</source>
      <translation>Aus dem Teilelager</translation>
    </message>
    <message>
      <source>From the rated torque and speed at these volts; run-up taken as {ms} ms, typical for servos whose inertia nobody states. A steady load, full drive all the way.</source>
      <translation>Aus Nennmoment und Nenngeschwindigkeit bei dieser Spannung; Anlauf mit {ms} ms angesetzt, typisch für Servos ohne Angabe der Trägheit. Gleichbleibende Last, voller Antrieb bis zum Ende.</translation>
    </message>
    <message>
      <source>Fuel and gas for the turbine</source>
      <translation>Treibstoff und Gas für die Turbine</translation>
    </message>
    <message>
      <source>Fuel, glow plug, plug spanner and starter</source>
      <translation>Treibstoff, Glühkerze, Kerzenschlüssel und Anlasser</translation>
    </message>
    <message>
      <source>Fuel, spark plug and its spanner</source>
      <translation>Treibstoff, Zündkerze und ihr Schlüssel</translation>
    </message>
    <message>
      <source>Gauge of the servo's lead</source>
      <translation>Stärke der Servoleitung</translation>
    </message>
    <message>
      <source>Gauges that a thin lead may be changed to; empty lets every lead stay.</source>
      <translation>Stärken, gegen die eine dünne Leitung getauscht werden darf; leer bleibt jede Leitung.</translation>
    </message>
    <message>
      <source>Giant-scale aeroplane</source>
      <translation>Großmodell</translation>
    </message>
    <message>
      <source>Going on like this it does not meet the limit.</source>
      <translation>Wenn es so weitergeht, erreicht es die Grenze nicht.</translation>
    </message>
    <message>
      <source>Going on like this it meets the limit about {day}.</source>
      <translation>Wenn es so weitergeht, erreicht es die Grenze etwa am {day}.</translation>
    </message>
    <message>
      <source>Got it</source>
      <translation>Besorgt</translation>
    </message>
    <message>
      <source>Guide to Hangar</source>
      <translation>Anleitung zu Hangar</translation>
    </message>
    <message>
      <source>Gyros</source>
      <translation>Kreisel</translation>
    </message>
    <message>
      <source>Hangar</source>
      <translation>Hangar</translation>
    </message>
    <message>
      <source>Hangar met a fault of its own. Your fleet file is as it was after the last finished edit. The details help to mend it.</source>
      <translation>Hangar hat einen eigenen Fehler. Die Flottendatei ist, wie sie nach der letzten fertigen Änderung war. Die Einzelheiten helfen, ihn zu beheben.</translation>
    </message>
    <message>
      <source>Head speed</source>
      <translation>Kopfdrehzahl</translation>
    </message>
    <message>
      <source>Healthy</source>
      <translation>Gesund</translation>
    </message>
    <message>
      <source>Healthy?</source>
      <translation>Gesund?</translation>
    </message>
    <message>
      <source>Held: open snag</source>
      <translation>Angehalten: offener Mangel</translation>
    </message>
    <message>
      <source>Held: warnings open</source>
      <translation>Angehalten: Warnungen offen</translation>
    </message>
    <message>
      <source>Helicopter, electric</source>
      <translation>Hubschrauber, elektrisch</translation>
    </message>
    <message>
      <source>Helicopter, piston engine</source>
      <translation>Hubschrauber, Kolbenmotor</translation>
    </message>
    <message>
      <source>Helicopter, turbine</source>
      <translation>Hubschrauber, Turbine</translation>
    </message>
    <message>
      <source>Helper</source>
      <translation>Helfer</translation>
    </message>
    <message>
      <source>Hidden rows: {count}.</source>
      <translation>Ausgeblendete Zeilen: {count}.</translation>
    </message>
    <message>
      <source>Hide a figure of law: {item}</source>
      <translation>Zahl des Rechts ausblenden: {item}</translation>
    </message>
    <message>
      <source>Hide th&amp;is row</source>
      <translation>Diese Zeile a&amp;usblenden</translation>
    </message>
    <message>
      <source>How fast the race is shown</source>
      <translation>Wie schnell der Wettlauf gezeigt wird</translation>
    </message>
    <message>
      <source>How it was worked out</source>
      <translation>Wie es gerechnet wurde</translation>
    </message>
    <message>
      <source>How long the flight lasts, with any unit of time: 8 min, 450 s.</source>
      <translation>Wie lange der Flug dauert, in jeder Zeiteinheit: 8 min, 450 s.</translation>
    </message>
    <message>
      <source>How many times the torque margin that the workshop rules ask of each position.</source>
      <translation>Das Wievielfache der Drehmomentreserve, die die Werkstattregeln an jeder Position verlangen.</translation>
    </message>
    <message>
      <source>How risk is counted</source>
      <translation>Wie Risiko gezählt wird</translation>
    </message>
    <message>
      <source>How to find it out</source>
      <translation>Wie man es herausfindet</translation>
    </message>
    <message>
      <source>How was this number made?</source>
      <translation>Wie kam diese Zahl zustande?</translation>
    </message>
    <message>
      <source>How?</source>
      <translation>Wie?</translation>
    </message>
    <message>
      <source>In force</source>
      <translation>In Kraft</translation>
    </message>
    <message>
      <source>In no stage: {words}.</source>
      <translation>In keinem Abschnitt: {words}.</translation>
    </message>
    <message>
      <source>In the Parts Bay</source>
      <translation>Im Teilelager</translation>
    </message>
    <message>
      <source>In words</source>
      <translation>In Worten</translation>
    </message>
    <message>
      <source>Inside a bay</source>
      <translation>In einem Schacht</translation>
    </message>
    <message>
      <source>Inspection of {code}</source>
      <translation>Durchsicht von {code}</translation>
    </message>
    <message>
      <source>Inspections</source>
      <translation>Durchsichten</translation>
    </message>
    <message>
      <source>Is it charged?</source>
      <translation>Ist er geladen?</translation>
    </message>
    <message>
      <source>Is it healthy?</source>
      <translation>Ist er gesund?</translation>
    </message>
    <message>
      <source>It could not be judged.</source>
      <translation>Es konnte nicht beurteilt werden.</translation>
    </message>
    <message>
      <source>It did</source>
      <translation>Er tat</translation>
    </message>
    <message>
      <source>Items</source>
      <translation>Punkte</translation>
    </message>
    <message>
      <source>Joints</source>
      <translation>Steckstellen</translation>
    </message>
    <message>
      <source>Judging it with the plan carried out…</source>
      <translation>Prüfe es mit ausgeführtem Plan…</translation>
    </message>
    <message>
      <source>Judging the aircraft as it is…</source>
      <translation>Prüfe das Flugzeug, wie es ist…</translation>
    </message>
    <message>
      <source>Keep as they a&amp;re</source>
      <translation>&amp;Unverändert bleiben</translation>
    </message>
    <message>
      <source>Keep out: {zone}.</source>
      <translation>Freihalten: {zone}.</translation>
    </message>
    <message>
      <source>Keep plan {code}</source>
      <translation>Plan {code} behalten</translation>
    </message>
    <message>
      <source>Keep the records of your model aircraft in one place: servos, packs, leads and flights. Hangar works the loads and the supply out and says what does not match.</source>
      <translation>Alles über die eigenen Modellflugzeuge an einem Ort: Servos, Akkus, Leitungen und Flüge. Hangar rechnet Lasten und Stromversorgung und sagt, was nicht zusammenpasst.</translation>
    </message>
    <message>
      <source>Keep what you changed?</source>
      <translation>Änderungen behalten?</translation>
    </message>
    <message>
      <source>Keep {count} plan</source>
      <translation>{count} Plan behalten</translation>
    </message>
    <message>
      <source>Keep {count} plans</source>
      <translation>{count} Pläne behalten</translation>
    </message>
    <message>
      <source>Keep {names}</source>
      <translation>{names} behalten</translation>
    </message>
    <message>
      <source>Keeper releases it</source>
      <translation>Halter gibt es frei</translation>
    </message>
    <message>
      <source>Kept as plan {code}; undo takes it back.</source>
      <translation>Als Plan {code} behalten; Rückgängig nimmt es zurück.</translation>
    </message>
    <message>
      <source>Kept: {counts}. Undo takes it back.</source>
      <translation>Behalten: {counts}. Rückgängig nimmt es zurück.</translation>
    </message>
    <message>
      <source>L&amp;oad case</source>
      <translation>Last&amp;fall</translation>
    </message>
    <message>
      <source>Label sheet</source>
      <translation>Etikettenbogen</translation>
    </message>
    <message>
      <source>Label, twice</source>
      <translation>Etikett, zweimal</translation>
    </message>
    <message>
      <source>Labels</source>
      <translation>Etiketten</translation>
    </message>
    <message>
      <source>Labels for</source>
      <translation>Etiketten für</translation>
    </message>
    <message>
      <source>Last charged</source>
      <translation>Zuletzt geladen</translation>
    </message>
    <message>
      <source>Last flight {day}</source>
      <translation>Letzter Flug {day}</translation>
    </message>
    <message>
      <source>Last test</source>
      <translation>Letzte Prüfung</translation>
    </message>
    <message>
      <source>Later</source>
      <translation>Später</translation>
    </message>
    <message>
      <source>Law and codes</source>
      <translation>Gesetz und Regelwerke</translation>
    </message>
    <message>
      <source>Lead
gauge</source>
      <translation>Leitungs-
stärke</translation>
    </message>
    <message>
      <source>Lead
length</source>
      <translation>Leitungs-
länge</translation>
    </message>
    <message>
      <source>Leads</source>
      <translation>Leitungen</translation>
    </message>
    <message>
      <source>Least bus v&amp;olts</source>
      <translation>&amp;Kleinste Busspannung</translation>
    </message>
    <message>
      <source>Least rod
angle</source>
      <translation>Kleinster
Gestängewinkel</translation>
    </message>
    <message>
      <source>Left over</source>
      <translation>Übrig</translation>
    </message>
    <message>
      <source>Length of the flight</source>
      <translation>Flugdauer</translation>
    </message>
    <message>
      <source>Level</source>
      <translation>Stufe</translation>
    </message>
    <message>
      <source>Li&amp;ght</source>
      <translation>&amp;Hell</translation>
    </message>
    <message>
      <source>Li-ion</source>
      <translation>Li-Ion</translation>
    </message>
    <message>
      <source>LiFePO4</source>
      <translation>LiFePO4</translation>
    </message>
    <message>
      <source>LiHV</source>
      <translation>LiHV</translation>
    </message>
    <message>
      <source>LiPo</source>
      <translation>LiPo</translation>
    </message>
    <message>
      <source>Limits of the checks</source>
      <translation>Grenzen der Prüfungen</translation>
    </message>
    <message>
      <source>Line {number} is carried out already.</source>
      <translation>Zeile {number} ist schon ausgeführt.</translation>
    </message>
    <message>
      <source>Line {number} is carried out; it stays in the plan.</source>
      <translation>Zeile {number} ist ausgeführt; sie bleibt im Plan.</translation>
    </message>
    <message>
      <source>Lines</source>
      <translation>Zeilen</translation>
    </message>
    <message>
      <source>Lines done</source>
      <translation>Zeilen erledigt</translation>
    </message>
    <message>
      <source>Lines of the plan</source>
      <translation>Zeilen des Plans</translation>
    </message>
    <message>
      <source>Linkages</source>
      <translation>Anlenkungen</translation>
    </message>
    <message>
      <source>Lists below the findings</source>
      <translation>Listen unter den Befunden</translation>
    </message>
    <message>
      <source>Lists for the day</source>
      <translation>Listen für den Tag</translation>
    </message>
    <message>
      <source>Lithium packs burn. Right charger mode, right cell count, never unattended, never in the aircraft.</source>
      <translation>Lithiumakkus brennen. Richtige Ladeart, richtige Zellenzahl, nie unbeaufsichtigt, nie im Flugzeug.</translation>
    </message>
    <message>
      <source>Load at the arm</source>
      <translation>Last am Arm</translation>
    </message>
    <message>
      <source>Load case</source>
      <translation>Lastfall</translation>
    </message>
    <message>
      <source>Load test now</source>
      <translation>Jetzt unter Last prüfen</translation>
    </message>
    <message>
      <source>Load tester</source>
      <translation>Lastprüfgerät</translation>
    </message>
    <message>
      <source>Load tests</source>
      <translation>Lastprüfungen</translation>
    </message>
    <message>
      <source>Log</source>
      <translation>Buch</translation>
    </message>
    <message>
      <source>Log a flight</source>
      <translation>Flug eintragen</translation>
    </message>
    <message>
      <source>Log flight {number} of {aircraft}</source>
      <translation>Flug {number} von {aircraft} eintragen</translation>
    </message>
    <message>
      <source>Log it all &amp;the same</source>
      <translation>&amp;Trotzdem eintragen</translation>
    </message>
    <message>
      <source>Log the last flight of the fleet once more: Ctrl+Shift+L</source>
      <translation>Letzten Flug der Flotte noch einmal eintragen: Ctrl+Shift+L</translation>
    </message>
    <message>
      <source>Log this aircraft's last flight once more (F6)</source>
      <translation>Letzten Flug dieses Flugzeugs noch einmal eintragen (F6)</translation>
    </message>
    <message>
      <source>Logbook</source>
      <translation>Bordbuch</translation>
    </message>
    <message>
      <source>Logged: {aircraft}, flight {number} of {day}, {packs}, {minutes}. Ctrl+Z takes it back.</source>
      <translation>Eingetragen: {aircraft}, Flug {number} vom {day}, {packs}, {minutes}. Ctrl+Z nimmt es zurück.</translation>
    </message>
    <message>
      <source>Longest seconds for 60° at a position, such as: RUD 0.10; ELE 0.12.</source>
      <translation>Längste Zeit in Sekunden für 60° an einer Position, etwa: RUD 0.10; ELE 0.12.</translation>
    </message>
    <message>
      <source>Look at it in</source>
      <translation>Ansehen in</translation>
    </message>
    <message>
      <source>Look at the &amp;invented fleet</source>
      <translation>Die &amp;erfundene Flotte ansehen</translation>
    </message>
    <message>
      <source>Looked at by</source>
      <translation>Angesehen von</translation>
    </message>
    <message>
      <source>Looking it over…</source>
      <translation>Wird angesehen…</translation>
    </message>
    <message>
      <source>Low rate, higher end</source>
      <translation>Kleiner Weg, höheres Ende</translation>
    </message>
    <message>
      <source>Lowest bus volts</source>
      <translation>Tiefste Busspannung</translation>
    </message>
    <message>
      <source>Lowest bus volts {volts} after {minutes} min.</source>
      <translation>Tiefste Spannung {volts} nach {minutes} min.</translation>
    </message>
    <message>
      <source>Lowest volts of the flight</source>
      <translation>Tiefste Spannung des Fluges</translation>
    </message>
    <message>
      <source>Main rotor</source>
      <translation>Hauptrotor</translation>
    </message>
    <message>
      <source>Makes this figure the limit that the checks of the fleet use.</source>
      <translation>Macht diese Zahl zum Grenzwert, mit dem die Flotte geprüft wird.</translation>
    </message>
    <message>
      <source>Mass ready to fly</source>
      <translation>Masse flugfertig</translation>
    </message>
    <message>
      <source>Mass {mass}</source>
      <translation>Masse {mass}</translation>
    </message>
    <message>
      <source>Measured since the refit</source>
      <translation>Gemessen seit dem Umbau</translation>
    </message>
    <message>
      <source>Minutes of each flight</source>
      <translation>Minuten jedes Fluges</translation>
    </message>
    <message>
      <source>Missing before release:</source>
      <translation>Vor der Freigabe fehlt:</translation>
    </message>
    <message>
      <source>Missing: {gaps}</source>
      <translation>Fehlt: {gaps}</translation>
    </message>
    <message>
      <source>Missing: {what}</source>
      <translation>Fehlt: {what}</translation>
    </message>
    <message>
      <source>Money of each stage; what is left over goes on to the next.</source>
      <translation>Geld jedes Abschnitts; was übrig bleibt, geht an den nächsten.</translation>
    </message>
    <message>
      <source>Money of stage {number}</source>
      <translation>Geld von Abschnitt {number}</translation>
    </message>
    <message>
      <source>Money sign</source>
      <translation>Geldzeichen</translation>
    </message>
    <message>
      <source>Most different servo types on the order; 0 buys none and takes spares only.</source>
      <translation>Höchstzahl verschiedener Servotypen auf der Bestellung; 0 kauft keine und nimmt nur Ersatzteile.</translation>
    </message>
    <message>
      <source>Most grams that all changes together may add; empty means no limit.</source>
      <translation>Masse, die alle Änderungen zusammen höchstens hinzufügen; leer heißt keine Grenze.</translation>
    </message>
    <message>
      <source>Most money to spend; empty means no limit.</source>
      <translation>Höchstbetrag; leer heißt keine Grenze.</translation>
    </message>
    <message>
      <source>Most t&amp;ypes to buy</source>
      <translation>Meiste T&amp;ypen zu kaufen</translation>
    </message>
    <message>
      <source>Move plan {code} to {state}</source>
      <translation>Plan {code} nach {state} bringen</translation>
    </message>
    <message>
      <source>Move {position} on the plan view</source>
      <translation>{position} in der Draufsicht verschieben</translation>
    </message>
    <message>
      <source>Moving</source>
      <translation>In Bewegung</translation>
    </message>
    <message>
      <source>Moving drawing of the linkage</source>
      <translation>Bewegte Zeichnung der Anlenkung</translation>
    </message>
    <message>
      <source>Must not fly as they are: {codes}.</source>
      <translation>Dürfen so nicht fliegen: {codes}.</translation>
    </message>
    <message>
      <source>N&amp;umbers</source>
      <translation>&amp;Zahlen</translation>
    </message>
    <message>
      <source>NEVER charge it: {why}.</source>
      <translation>NIE laden: {why}.</translation>
    </message>
    <message>
      <source>NOT PASSED</source>
      <translation>NICHT BESTANDEN</translation>
    </message>
    <message>
      <source>Name of stage {number}</source>
      <translation>Name von Abschnitt {number}</translation>
    </message>
    <message>
      <source>Ne&amp;w servo</source>
      <translation>Ne&amp;ues Servo</translation>
    </message>
    <message>
      <source>Needed to fly</source>
      <translation>Zum Fliegen nötig</translation>
    </message>
    <message>
      <source>Neither arrives: this load stalls both.</source>
      <translation>Keines kommt an: diese Last hält beide auf.</translation>
    </message>
    <message>
      <source>New &amp;aircraft…</source>
      <translation>Neues Flug&amp;zeug…</translation>
    </message>
    <message>
      <source>New &amp;row</source>
      <translation>Neue Ze&amp;ile</translation>
    </message>
    <message>
      <source>New row</source>
      <translation>Neue Zeile</translation>
    </message>
    <message>
      <source>New servo</source>
      <translation>Neues Servo</translation>
    </message>
    <message>
      <source>New {what}</source>
      <translation>Neu: {what}</translation>
    </message>
    <message>
      <source>Next</source>
      <translation>Als Nächstes</translation>
    </message>
    <message>
      <source>Next Field Day</source>
      <translation>Nächster Flugtag</translation>
    </message>
    <message>
      <source>NiCd</source>
      <translation>NiCd</translation>
    </message>
    <message>
      <source>NiMH</source>
      <translation>NiMH</translation>
    </message>
    <message>
      <source>NiMH-LSD</source>
      <translation>NiMH-LSD</translation>
    </message>
    <message>
      <source>No air load is known here, so there is no line to draw.</source>
      <translation>Hier ist keine Luftlast bekannt, also gibt es keine Linie.</translation>
    </message>
    <message>
      <source>No aircraft is entered yet.</source>
      <translation>Noch ist kein Flugzeug eingetragen.</translation>
    </message>
    <message>
      <source>No aircraft is entered yet. Edit, New aircraft (Ctrl+Shift+N) enters one by hand; File, Bring in tables reads your own.</source>
      <translation>Noch ist kein Flugzeug eingetragen. Bearbeiten, Neues Flugzeug (Strg+Umschalt+N) trägt eines von Hand ein; Datei, Tabellen einlesen liest die eigenen.</translation>
    </message>
    <message>
      <source>No aircraft is like that; Show all brings the others back.</source>
      <translation>Kein Flugzeug ist so; „Alle zeigen“ bringt die anderen zurück.</translation>
    </message>
    <message>
      <source>No figure that is missing would change a finding.</source>
      <translation>Keine fehlende Angabe würde einen Befund ändern.</translation>
    </message>
    <message>
      <source>No finding comes or goes.</source>
      <translation>Kein Befund kommt oder geht.</translation>
    </message>
    <message>
      <source>No flight is logged yet; there is none to log again.</source>
      <translation>Noch ist kein Flug eingetragen; keiner lässt sich wiederholen.</translation>
    </message>
    <message>
      <source>No flight logged</source>
      <translation>Kein Flug eingetragen</translation>
    </message>
    <message>
      <source>No lead is recorded at {position}; enter its length first.</source>
      <translation>An {position} ist keine Leitung eingetragen; zuerst ihre Länge eintragen.</translation>
    </message>
    <message>
      <source>No lead recorded: {codes}.</source>
      <translation>Keine Leitung eingetragen: {codes}.</translation>
    </message>
    <message>
      <source>No open warnings on the data entered</source>
      <translation>Keine offenen Warnungen zu den eingetragenen Daten</translation>
    </message>
    <message>
      <source>No open warnings on the data entered.</source>
      <translation>Keine offenen Warnungen zu den eingetragenen Daten.</translation>
    </message>
    <message>
      <source>No pack is entered yet; add one under All tables.</source>
      <translation>Noch kein Akku eingetragen; unter Alle Tabellen zufügen.</translation>
    </message>
    <message>
      <source>No pack is fitted in this aircraft.</source>
      <translation>In diesem Flugzeug ist kein Akku eingebaut.</translation>
    </message>
    <message>
      <source>No photo or paper is kept here yet.</source>
      <translation>Hier ist noch kein Foto oder Papier.</translation>
    </message>
    <message>
      <source>No plan yet. Search for a refit, or begin a plan by hand.</source>
      <translation>Noch kein Plan. Einen Umbau suchen oder einen Plan von Hand beginnen.</translation>
    </message>
    <message>
      <source>No reading yet.</source>
      <translation>Noch kein Messwert.</translation>
    </message>
    <message>
      <source>No rod to draw: the servo turns this {how}.</source>
      <translation>Kein Gestänge zu zeichnen: das Servo dreht dies {how}.</translation>
    </message>
    <message>
      <source>No servo lies in the Parts Bay.</source>
      <translation>Im Teilelager liegt kein Servo.</translation>
    </message>
    <message>
      <source>No sign of wear in what was measured</source>
      <translation>Kein Zeichen von Alterung in den Messwerten</translation>
    </message>
    <message>
      <source>Not below</source>
      <translation>Nicht unter</translation>
    </message>
    <message>
      <source>Not charged: charge it before it flies</source>
      <translation>Nicht geladen: vor dem Flug laden</translation>
    </message>
    <message>
      <source>Not enough is known for totals.</source>
      <translation>Für Summen ist zu wenig bekannt.</translation>
    </message>
    <message>
      <source>Not entered yet, the most telling first: what could change once it is known.</source>
      <translation>Noch nicht eingetragen, das Aussagekräftigste zuerst: was sich ändern könnte, sobald es bekannt ist.</translation>
    </message>
    <message>
      <source>Not judged yet</source>
      <translation>Noch nicht beurteilt</translation>
    </message>
    <message>
      <source>Not known: {fields}.</source>
      <translation>Nicht bekannt: {fields}.</translation>
    </message>
    <message>
      <source>Not proved best.</source>
      <translation>Nicht als bestes bewiesen.</translation>
    </message>
    <message>
      <source>Not proved best; another may leave up to {gap} less shortage.</source>
      <translation>Nicht als beste bewiesen; eine andere ließe höchstens {gap} weniger Drehmomentmangel.</translation>
    </message>
    <message>
      <source>Not read at {code}: {readings}.</source>
      <translation>Nicht abgelesen an {code}: {readings}.</translation>
    </message>
    <message>
      <source>Not shown for want of room: {columns}.</source>
      <translation>Aus Platzmangel nicht gezeigt: {columns}.</translation>
    </message>
    <message>
      <source>Nothing found in the travel that is used.</source>
      <translation>Nichts gefunden im genutzten Weg.</translation>
    </message>
    <message>
      <source>Nothing has been changed yet.</source>
      <translation>Noch wurde nichts geändert.</translation>
    </message>
    <message>
      <source>Nothing has been searched yet.</source>
      <translation>Noch wurde nichts gesucht.</translation>
    </message>
    <message>
      <source>Nothing is changed here yet. The real aircraft is never touched.</source>
      <translation>Hier ist noch nichts geändert. Das wirkliche Flugzeug wird nie berührt.</translation>
    </message>
    <message>
      <source>Nothing is changed, so there is no plan to keep.</source>
      <translation>Nichts wird geändert, also gibt es keinen Plan zu behalten.</translation>
    </message>
    <message>
      <source>Nothing is due</source>
      <translation>Nichts ist fällig</translation>
    </message>
    <message>
      <source>Nothing is entered here yet.</source>
      <translation>Hier ist noch nichts eingetragen.</translation>
    </message>
    <message>
      <source>Nothing is filled in yet.</source>
      <translation>Noch ist nichts ausgefüllt.</translation>
    </message>
    <message>
      <source>Nothing is to be bought: the plans need nothing that does not lie in the Parts Bay.</source>
      <translation>Nichts zu kaufen: die Pläne brauchen nichts, was nicht im Teilelager liegt.</translation>
    </message>
    <message>
      <source>Nothing on record holds “{text}”.</source>
      <translation>Kein Eintrag enthält „{text}“.</translation>
    </message>
    <message>
      <source>Nothing to show here; what is left out or not entered is not judged.</source>
      <translation>Hier ist nichts zu zeigen; was ausgelassen oder nicht eingetragen ist, ist nicht beurteilt.</translation>
    </message>
    <message>
      <source>Nothing was brought in. {report}</source>
      <translation>Nichts wurde eingelesen. {report}</translation>
    </message>
    <message>
      <source>Nothing was entered yet; boxes to look at: {boxes}.</source>
      <translation>Noch wurde nichts eingetragen; anzusehende Felder: {boxes}.</translation>
    </message>
    <message>
      <source>Nothing worked out yet.</source>
      <translation>Noch nichts ausgerechnet.</translation>
    </message>
    <message>
      <source>Notice</source>
      <translation>Hinweis</translation>
    </message>
    <message>
      <source>Number of its dot on the plan view</source>
      <translation>Nummer seines Punktes in der Draufsicht</translation>
    </message>
    <message>
      <source>N·m, mm, g</source>
      <translation>N·m, mm, g</translation>
    </message>
    <message>
      <source>Of</source>
      <translation>Von</translation>
    </message>
    <message>
      <source>Of &amp;every aircraft</source>
      <translation>Von &amp;allen Flugzeugen</translation>
    </message>
    <message>
      <source>Of &amp;{code}</source>
      <translation>Von &amp;{code}</translation>
    </message>
    <message>
      <source>Old and new servo</source>
      <translation>Altes und neues Servo</translation>
    </message>
    <message>
      <source>Old and new servo as bars</source>
      <translation>Altes und neues Servo als Balken</translation>
    </message>
    <message>
      <source>On a part-used sheet: counted from 1 along the rows</source>
      <translation>Auf einem angebrochenen Bogen: ab 1 gezählt, Zeile für Zeile</translation>
    </message>
    <message>
      <source>On the line, not judged</source>
      <translation>In der Startreihe, nicht beurteilt</translation>
    </message>
    <message>
      <source>On the outside</source>
      <translation>Außen angebracht</translation>
    </message>
    <message>
      <source>On the shelf</source>
      <translation>Im Regal</translation>
    </message>
    <message>
      <source>On to {state}</source>
      <translation>Weiter zu {state}</translation>
    </message>
    <message>
      <source>One budget is spent where it removes the most shortage of torque; risk is counted on what the checks find then. A large fleet takes minutes to search.</source>
      <translation>Ein Budget wird ausgegeben, wo es den meisten Drehmomentmangel beseitigt; das Risiko wird an dem gezählt, was die Prüfungen dann finden. Eine große Flotte braucht Minuten.</translation>
    </message>
    <message>
      <source>One reading, {value} on {day}.</source>
      <translation>Ein Messwert, {value} am {day}.</translation>
    </message>
    <message>
      <source>Open a fleet</source>
      <translation>Flotte öffnen</translation>
    </message>
    <message>
      <source>Open again: what it rested on changed</source>
      <translation>Wieder offen: worauf es beruhte, hat sich geändert</translation>
    </message>
    <message>
      <source>Open findings</source>
      <translation>Offene Befunde</translation>
    </message>
    <message>
      <source>Open findings of the fleet</source>
      <translation>Offene Befunde der Flotte</translation>
    </message>
    <message>
      <source>Open findings: {counts}.</source>
      <translation>Offene Befunde: {counts}.</translation>
    </message>
    <message>
      <source>Open the &amp;invented fleet</source>
      <translation>Die &amp;erfundene Flotte öffnen</translation>
    </message>
    <message>
      <source>Open, and asked about at release:</source>
      <translation>Offen, und bei der Freigabe erfragt:</translation>
    </message>
    <message>
      <source>Opening {name}…</source>
      <translation>{name} wird geöffnet …</translation>
    </message>
    <message>
      <source>Order of the cards</source>
      <translation>Reihenfolge der Karten</translation>
    </message>
    <message>
      <source>Order of work</source>
      <translation>Reihenfolge der Arbeit</translation>
    </message>
    <message>
      <source>Other devices</source>
      <translation>Andere Geräte</translation>
    </message>
    <message>
      <source>Overdue: {what} {about}</source>
      <translation>Überfällig: {what} {about}</translation>
    </message>
    <message>
      <source>PDF (*.pdf)</source>
      <translation>PDF (*.pdf)</translation>
    </message>
    <message>
      <source>Pa&amp;ge before</source>
      <translation>&amp;Vorige Seite</translation>
    </message>
    <message>
      <source>Pac&amp;k</source>
      <translation>A&amp;kku</translation>
    </message>
    <message>
      <source>Pack shown</source>
      <translation>Gezeigter Akku</translation>
    </message>
    <message>
      <source>Pack types</source>
      <translation>Akkutypen</translation>
    </message>
    <message>
      <source>Pack {tag} is a {found}; the line wants a {wanted}.</source>
      <translation>Akku {tag} ist ein {found}; die Zeile verlangt {wanted}.</translation>
    </message>
    <message>
      <source>Pack {tag}: {state}</source>
      <translation>Akku {tag}: {state}</translation>
    </message>
    <message>
      <source>Pack, part or person</source>
      <translation>Akku, Teil oder Person</translation>
    </message>
    <message>
      <source>Packs</source>
      <translation>Akkus</translation>
    </message>
    <message>
      <source>Packs and load tests</source>
      <translation>Akkus und Lasttests</translation>
    </message>
    <message>
      <source>Packs by chemistry</source>
      <translation>Akkus nach Chemie</translation>
    </message>
    <message>
      <source>Packs fitted</source>
      <translation>Eingebaute Akkus</translation>
    </message>
    <message>
      <source>Page</source>
      <translation>Seite</translation>
    </message>
    <message>
      <source>Page of the guide</source>
      <translation>Seite der Anleitung</translation>
    </message>
    <message>
      <source>Page width</source>
      <translation>Seitenbreite</translation>
    </message>
    <message>
      <source>Pages of the Battery Shelf</source>
      <translation>Seiten des Akkuregals</translation>
    </message>
    <message>
      <source>Pages of the guide</source>
      <translation>Seiten der Anleitung</translation>
    </message>
    <message>
      <source>Pages of the supply</source>
      <translation>Seiten der Versorgung</translation>
    </message>
    <message>
      <source>Pages of this aircraft</source>
      <translation>Seiten dieses Flugzeugs</translation>
    </message>
    <message>
      <source>Pages of this plan</source>
      <translation>Seiten dieses Plans</translation>
    </message>
    <message>
      <source>Pages sent to the printer: {count}.</source>
      <translation>Seiten an den Drucker geschickt: {count}.</translation>
    </message>
    <message>
      <source>Pape&amp;r</source>
      <translation>Papie&amp;r</translation>
    </message>
    <message>
      <source>Papers</source>
      <translation>Papiere</translation>
    </message>
    <message>
      <source>Part charged, {band} at rest; refresh it now and then</source>
      <translation>Teilgeladen, {band} in Ruhe; ab und zu auffrischen</translation>
    </message>
    <message>
      <source>Part charged: fit for part of a set of flights</source>
      <translation>Teilgeladen: reicht für einen Teil der Flüge</translation>
    </message>
    <message>
      <source>Particulars</source>
      <translation>Angaben</translation>
    </message>
    <message>
      <source>Parts Bay</source>
      <translation>Teilelager</translation>
    </message>
    <message>
      <source>Parts Bay: drag to a dot</source>
      <translation>Teilelager: auf Punkt ziehen</translation>
    </message>
    <message>
      <source>Parts reserved by other plans</source>
      <translation>Teile, die andere Pläne reserviert haben</translation>
    </message>
    <message>
      <source>Passed when: {words}</source>
      <translation>Bestanden, wenn: {words}</translation>
    </message>
    <message>
      <source>Passport</source>
      <translation>Flugzeugpass</translation>
    </message>
    <message>
      <source>Paste rows of {what}</source>
      <translation>Zeilen einfügen: {what}</translation>
    </message>
    <message>
      <source>Paste rows…</source>
      <translation>Zeilen einfügen…</translation>
    </message>
    <message>
      <source>Paste {count} row of {what}</source>
      <translation>{count} Zeile einfügen: {what}</translation>
    </message>
    <message>
      <source>Paste {count} rows of {what}</source>
      <translation>{count} Zeilen einfügen: {what}</translation>
    </message>
    <message>
      <source>Photos and papers</source>
      <translation>Fotos und Papiere</translation>
    </message>
    <message>
      <source>Photos and papers to keep</source>
      <translation>Fotos und Papiere zum Behalten</translation>
    </message>
    <message>
      <source>Photos in &amp;black and white</source>
      <translation>Fotos in Sch&amp;warzweiß</translation>
    </message>
    <message>
      <source>Picture of the supply</source>
      <translation>Bild der Stromversorgung</translation>
    </message>
    <message>
      <source>Pieces</source>
      <translation>Stück</translation>
    </message>
    <message>
      <source>Pitch gauge, ball-link pliers, spare blades</source>
      <translation>Einstelllehre, Kugelpfannenzange, Ersatzblätter</translation>
    </message>
    <message>
      <source>Plain bearing</source>
      <translation>Gleitlager</translation>
    </message>
    <message>
      <source>Plain paper, to cut</source>
      <translation>Normales Papier, zum Schneiden</translation>
    </message>
    <message>
      <source>Plan "{title}" has changed since the stages were worked out; work them out again.</source>
      <translation>Der Plan „{title}“ hat sich geändert, seit die Abschnitte ausgerechnet wurden; rechnen Sie sie neu aus.</translation>
    </message>
    <message>
      <source>Plan view with servo positions</source>
      <translation>Draufsicht mit Servopositionen</translation>
    </message>
    <message>
      <source>Plans by state</source>
      <translation>Pläne nach Stand</translation>
    </message>
    <message>
      <source>Plans of this aircraft</source>
      <translation>Pläne dieses Flugzeugs</translation>
    </message>
    <message>
      <source>Plug {position} into channel {number}</source>
      <translation>{position} in Kanal {number} stecken</translation>
    </message>
    <message>
      <source>Points of a finding: {level}</source>
      <translation>Punkte eines Befunds: {level}</translation>
    </message>
    <message>
      <source>Position of the servo that was not chosen</source>
      <translation>Position des nicht gewählten Servos</translation>
    </message>
    <message>
      <source>Positions</source>
      <translation>Positionen</translation>
    </message>
    <message>
      <source>Power paths</source>
      <translation>Strompfade</translation>
    </message>
    <message>
      <source>Pr&amp;int…</source>
      <translation>Dr&amp;ucken…</translation>
    </message>
    <message>
      <source>Predicted</source>
      <translation>Vorhergesagt</translation>
    </message>
    <message>
      <source>Predicted and measured</source>
      <translation>Vorhergesagt und gemessen</translation>
    </message>
    <message>
      <source>Preview of the pages</source>
      <translation>Vorschau der Seiten</translation>
    </message>
    <message>
      <source>Print a sheet</source>
      <translation>Ein Blatt drucken</translation>
    </message>
    <message>
      <source>Print the &amp;charging card…</source>
      <translation>&amp;Ladekarte drucken…</translation>
    </message>
    <message>
      <source>Progress of the search</source>
      <translation>Fortschritt der Suche</translation>
    </message>
    <message>
      <source>Proofs and release</source>
      <translation>Nachweise und Freigabe</translation>
    </message>
    <message>
      <source>Proofs before release</source>
      <translation>Nachweise vor der Freigabe</translation>
    </message>
    <message>
      <source>Proofs to tick: {codes}.</source>
      <translation>Noch abzuhakende Nachweise: {codes}.</translation>
    </message>
    <message>
      <source>Prove the failsafe with the engine stopped, or with blades or propeller off.</source>
      <translation>Failsafe bei stehendem Motor prüfen oder ohne Blätter oder Propeller.</translation>
    </message>
    <message>
      <source>Proved best on its steps.</source>
      <translation>Als bestes bewiesen in seinen Schritten.</translation>
    </message>
    <message>
      <source>Proved to leave the least shortage.</source>
      <translation>Erwiesen der kleinste Drehmomentmangel.</translation>
    </message>
    <message>
      <source>Put away</source>
      <translation>Weggelegt</translation>
    </message>
    <message>
      <source>Put in &amp;use</source>
      <translation>In &amp;Gebrauch nehmen</translation>
    </message>
    <message>
      <source>Put on the benc&amp;h</source>
      <translation>Auf die &amp;Werkbank</translation>
    </message>
    <message>
      <source>Put the cursor on a computed number in a table first, then ask how.</source>
      <translation>Zuerst den Zeiger auf eine gerechnete Zahl einer Tabelle setzen, dann fragen, wie.</translation>
    </message>
    <message>
      <source>Put {code} on the bench</source>
      <translation>{code} auf die Werkbank nehmen</translation>
    </message>
    <message>
      <source>Race of the two servos</source>
      <translation>Wettlauf der zwei Servos</translation>
    </message>
    <message>
      <source>Radio and surfaces</source>
      <translation>Funk und Ruder</translation>
    </message>
    <message>
      <source>Range checks</source>
      <translation>Reichweitenprüfungen</translation>
    </message>
    <message>
      <source>Ratio against servo travel</source>
      <translation>Übersetzung über den Servoweg</translation>
    </message>
    <message>
      <source>Ratio at
neutral</source>
      <translation>Übersetzung
neutral</translation>
    </message>
    <message>
      <source>Ratio {least} to {most} over the travel.</source>
      <translation>Übersetzung {least} bis {most} über den Weg.</translation>
    </message>
    <message>
      <source>Ratio {ratio} at servo travel {travel}.</source>
      <translation>Übersetzung {ratio} bei Servoweg {travel}.</translation>
    </message>
    <message>
      <source>Re&amp;tire</source>
      <translation>Auss&amp;ondern</translation>
    </message>
    <message>
      <source>Reached by the linkage, of what is wanted at the surface.</source>
      <translation>Von der Anlenkung erreicht, von dem, was am Ruder verlangt ist.</translation>
    </message>
    <message>
      <source>Read {read} under load; charged from {ready}, to be charged below {red}.</source>
      <translation>{read} unter Last gelesen; geladen ab {ready}, zu laden unter {red}.</translation>
    </message>
    <message>
      <source>Reading the rows…</source>
      <translation>Die Zeilen werden gelesen…</translation>
    </message>
    <message>
      <source>Reading the tables…</source>
      <translation>Tabellen werden gelesen…</translation>
    </message>
    <message>
      <source>Readings and what is expected</source>
      <translation>Messwerte und was zu erwarten ist</translation>
    </message>
    <message>
      <source>Readings on the bench</source>
      <translation>Messwerte auf der Werkbank</translation>
    </message>
    <message>
      <source>Readings that were written on a printed sheet, box by box</source>
      <translation>Werte, die auf ein gedrucktes Blatt geschrieben wurden, Feld für Feld</translation>
    </message>
    <message>
      <source>Ready for: {state}</source>
      <translation>Bereit für: {state}</translation>
    </message>
    <message>
      <source>Reason for accepting</source>
      <translation>Grund der Annahme</translation>
    </message>
    <message>
      <source>Reason, in your own words</source>
      <translation>Grund, in eigenen Worten</translation>
    </message>
    <message>
      <source>Receiver and servos</source>
      <translation>Empfänger und Servos</translation>
    </message>
    <message>
      <source>Receiver pack</source>
      <translation>Empfängerakku</translation>
    </message>
    <message>
      <source>Receivers</source>
      <translation>Empfänger</translation>
    </message>
    <message>
      <source>Record</source>
      <translation>Eintrag</translation>
    </message>
    <message>
      <source>Refit</source>
      <translation>Umbau</translation>
    </message>
    <message>
      <source>Refit Board</source>
      <translation>Umbaubrett</translation>
    </message>
    <message>
      <source>Refit of {aircraft}</source>
      <translation>Umbau von {aircraft}</translation>
    </message>
    <message>
      <source>Refit {number}: {figures}</source>
      <translation>Umbau {number}: {figures}</translation>
    </message>
    <message>
      <source>Refits</source>
      <translation>Umbauten</translation>
    </message>
    <message>
      <source>Refits that none beats</source>
      <translation>Umbauten, die keiner übertrifft</translation>
    </message>
    <message>
      <source>Refits that none beats, as a table</source>
      <translation>Umbauten, die keiner übertrifft, als Tabelle</translation>
    </message>
    <message>
      <source>Refused ({count})</source>
      <translation>Verworfen ({count})</translation>
    </message>
    <message>
      <source>Regulator heat</source>
      <translation>Reglerwärme</translation>
    </message>
    <message>
      <source>Regulator types</source>
      <translation>Reglertypen</translation>
    </message>
    <message>
      <source>Regulators</source>
      <translation>Regler</translation>
    </message>
    <message>
      <source>Release &amp;although this is open</source>
      <translation>Freigeben, &amp;obwohl das offen ist</translation>
    </message>
    <message>
      <source>Release to the &amp;line</source>
      <translation>&amp;Freigeben</translation>
    </message>
    <message>
      <source>Release {code} to the line</source>
      <translation>{code} freigeben</translation>
    </message>
    <message>
      <source>Release {code} to the line with {count} thing open</source>
      <translation>{code} freigeben, {count} Punkt offen</translation>
    </message>
    <message>
      <source>Release {code} to the line with {count} things open</source>
      <translation>{code} freigeben, {count} Punkte offen</translation>
    </message>
    <message>
      <source>Remark</source>
      <translation>Bemerkung</translation>
    </message>
    <message>
      <source>Remove &amp;plan</source>
      <translation>&amp;Plan entfernen</translation>
    </message>
    <message>
      <source>Remove a figure of law: {item}</source>
      <translation>Zahl des Rechts entfernen: {item}</translation>
    </message>
    <message>
      <source>Remove line {number} of plan {code}</source>
      <translation>Zeile {number} von Plan {code} entfernen</translation>
    </message>
    <message>
      <source>Remove linkage {position}</source>
      <translation>Anlenkung {position} entfernen</translation>
    </message>
    <message>
      <source>Remove plan {code}</source>
      <translation>Plan {code} entfernen</translation>
    </message>
    <message>
      <source>Remove stage {number}</source>
      <translation>Abschnitt {number} entfernen</translation>
    </message>
    <message>
      <source>Remove th&amp;is row</source>
      <translation>Diese Zeile ent&amp;fernen</translation>
    </message>
    <message>
      <source>Remove {name}</source>
      <translation>{name} entfernen</translation>
    </message>
    <message>
      <source>Remove {what}</source>
      <translation>{what} entfernen</translation>
    </message>
    <message>
      <source>Remove {what} {name}</source>
      <translation>{what} {name} entfernen</translation>
    </message>
    <message>
      <source>Res&amp;tore what was shipped</source>
      <translation>Mi&amp;tgelieferten Wert wiederherstellen</translation>
    </message>
    <message>
      <source>Reserved by other plans and not offered: {tags}</source>
      <translation>Von anderen Plänen reserviert und nicht angeboten: {tags}</translation>
    </message>
    <message>
      <source>Reserved in the Parts Bay: {tags}</source>
      <translation>Im Teilelager vorgemerkt: {tags}</translation>
    </message>
    <message>
      <source>Resistance</source>
      <translation>Widerstand</translation>
    </message>
    <message>
      <source>Resistance of a cell</source>
      <translation>Widerstand einer Zelle</translation>
    </message>
    <message>
      <source>Resistance of a cell by load tests</source>
      <translation>Widerstand einer Zelle nach Lastprüfungen</translation>
    </message>
    <message>
      <source>Resistance of the packs, times today's</source>
      <translation>Widerstand der Akkus, mal dem heutigen</translation>
    </message>
    <message>
      <source>Resistance over time</source>
      <translation>Widerstand über die Zeit</translation>
    </message>
    <message>
      <source>Restore a backup</source>
      <translation>Sicherung zurückholen</translation>
    </message>
    <message>
      <source>Restore a figure of law: {item}</source>
      <translation>Zahl des Rechts wiederherstellen: {item}</translation>
    </message>
    <message>
      <source>Restore how risk is counted</source>
      <translation>Zählung des Risikos wiederherstellen</translation>
    </message>
    <message>
      <source>Restore how risk is counted: {name}</source>
      <translation>Zählung des Risikos wiederherstellen: {name}</translation>
    </message>
    <message>
      <source>Restore limit {name}</source>
      <translation>Grenze {name} wiederherstellen</translation>
    </message>
    <message>
      <source>Restore the table of law</source>
      <translation>Tabelle des Rechts wiederherstellen</translation>
    </message>
    <message>
      <source>Restore the whole ta&amp;ble</source>
      <translation>&amp;Ganze Tabelle wiederherstellen</translation>
    </message>
    <message>
      <source>Restore which fleet?</source>
      <translation>Welche Flotte zurückholen?</translation>
    </message>
    <message>
      <source>Result of the race</source>
      <translation>Ergebnis des Wettlaufs</translation>
    </message>
    <message>
      <source>Risk</source>
      <translation>Risiko</translation>
    </message>
    <message>
      <source>Risk after</source>
      <translation>Risiko nachher</translation>
    </message>
    <message>
      <source>Risk before</source>
      <translation>Risiko vorher</translation>
    </message>
    <message>
      <source>Risk is the sum over open findings of points ({points}) times a factor ({factors}); {source}.</source>
      <translation>Risiko ist die Summe über offene Befunde von Punkten ({points}) mal einem Faktor ({factors}); {source}.</translation>
    </message>
    <message>
      <source>Risk left</source>
      <translation>Restrisiko</translation>
    </message>
    <message>
      <source>Risk left after each stage</source>
      <translation>Restrisiko nach jedem Abschnitt</translation>
    </message>
    <message>
      <source>Rooms</source>
      <translation>Räume</translation>
    </message>
    <message>
      <source>Rotors</source>
      <translation>Rotoren</translation>
    </message>
    <message>
      <source>Row</source>
      <translation>Zeile</translation>
    </message>
    <message>
      <source>Rows to paste</source>
      <translation>Einzufügende Zeilen</translation>
    </message>
    <message>
      <source>Run</source>
      <translation>Weg</translation>
    </message>
    <message>
      <source>Runs</source>
      <translation>Wege</translation>
    </message>
    <message>
      <source>Runs of the leads</source>
      <translation>Wege der Leitungen</translation>
    </message>
    <message>
      <source>S&amp;peed wishes</source>
      <translation>Wünsche zur Stellz&amp;eit</translation>
    </message>
    <message>
      <source>S&amp;top</source>
      <translation>Hal&amp;t</translation>
    </message>
    <message>
      <source>S&amp;upply may change</source>
      <translation>Str&amp;omversorgung änderbar</translation>
    </message>
    <message>
      <source>S&amp;wap with…</source>
      <translation>&amp;Tauschen mit…</translation>
    </message>
    <message>
      <source>Sa&amp;ve as PDF…</source>
      <translation>Als PDF &amp;sichern…</translation>
    </message>
    <message>
      <source>Same &amp;again</source>
      <translation>Noch &amp;einmal</translation>
    </message>
    <message>
      <source>Save a &amp;copy…</source>
      <translation>&amp;Kopie speichern…</translation>
    </message>
    <message>
      <source>Save a copy</source>
      <translation>Kopie speichern</translation>
    </message>
    <message>
      <source>Save as &amp;CSV…</source>
      <translation>Als &amp;CSV speichern…</translation>
    </message>
    <message>
      <source>Save as PDF</source>
      <translation>Als PDF sichern</translation>
    </message>
    <message>
      <source>Save as a &amp;fleet file…</source>
      <translation>Als &amp;Flottendatei sichern…</translation>
    </message>
    <message>
      <source>Save as a fleet file</source>
      <translation>Als Flottendatei sichern</translation>
    </message>
    <message>
      <source>Saved to {path}; what you change is kept there.</source>
      <translation>Nach {path} gesichert; Änderungen werden dort behalten.</translation>
    </message>
    <message>
      <source>Scale aeroplane</source>
      <translation>Vorbildgetreues Flugmodell</translation>
    </message>
    <message>
      <source>Scale sailplane</source>
      <translation>Vorbildgetreuer Segler</translation>
    </message>
    <message>
      <source>Screwdrivers, hex keys, ties and tape</source>
      <translation>Schraubendreher, Inbusschlüssel, Kabelbinder und Band</translation>
    </message>
    <message>
      <source>Search (Ctrl+F)</source>
      <translation>Suchen (Ctrl+F)</translation>
    </message>
    <message>
      <source>Search the fleet</source>
      <translation>Flotte durchsuchen</translation>
    </message>
    <message>
      <source>Second isolated pa&amp;ck</source>
      <translation>&amp;Zweiter, getrennter Akku</translation>
    </message>
    <message>
      <source>Second person</source>
      <translation>Zweite Person</translation>
    </message>
    <message>
      <source>Servo &amp;travel</source>
      <translation>Servo&amp;weg</translation>
    </message>
    <message>
      <source>Servo ratings</source>
      <translation>Servonenndaten</translation>
    </message>
    <message>
      <source>Servo travel</source>
      <translation>Servoweg</translation>
    </message>
    <message>
      <source>Servo type that was not chosen</source>
      <translation>Nicht gewählter Servotyp</translation>
    </message>
    <message>
      <source>Servo types</source>
      <translation>Servotypen</translation>
    </message>
    <message>
      <source>Servo {tag} is a {found}; the line wants a {wanted}.</source>
      <translation>Servo {tag} ist ein {found}; die Zeile verlangt {wanted}.</translation>
    </message>
    <message>
      <source>Servos</source>
      <translation>Servos</translation>
    </message>
    <message>
      <source>Servos fitted elsewhere</source>
      <translation>Anderswo eingebaute Servos</translation>
    </message>
    <message>
      <source>Servos in place</source>
      <translation>Eingebaute Servos</translation>
    </message>
    <message>
      <source>Servos in the Parts Bay</source>
      <translation>Servos im Teilelager</translation>
    </message>
    <message>
      <source>Set all not looked at to &amp;ok</source>
      <translation>Alle nicht angesehenen auf &amp;in Ordnung</translation>
    </message>
    <message>
      <source>Set limit {name}</source>
      <translation>Grenze {name} setzen</translation>
    </message>
    <message>
      <source>Sheet</source>
      <translation>Blatt</translation>
    </message>
    <message>
      <source>Shopping List</source>
      <translation>Einkaufsliste</translation>
    </message>
    <message>
      <source>Shopping list</source>
      <translation>Einkaufsliste</translation>
    </message>
    <message>
      <source>Shortage after</source>
      <translation>Mangel danach</translation>
    </message>
    <message>
      <source>Shortage before</source>
      <translation>Mangel davor</translation>
    </message>
    <message>
      <source>Show &amp;all</source>
      <translation>&amp;Alle zeigen</translation>
    </message>
    <message>
      <source>Show hi&amp;dden rows too</source>
      <translation>Auch ausgeblendet&amp;e Zeilen zeigen</translation>
    </message>
    <message>
      <source>Show numbers in</source>
      <translation>Zahlen zeigen in</translation>
    </message>
    <message>
      <source>Show numbers in {units}</source>
      <translation>Zahlen zeigen in {units}</translation>
    </message>
    <message>
      <source>Show only aircraft with…</source>
      <translation>Nur Flugzeuge zeigen mit…</translation>
    </message>
    <message>
      <source>Show only entries with…</source>
      <translation>Nur Einträge zeigen mit…</translation>
    </message>
    <message>
      <source>Show only findings with…</source>
      <translation>Nur Befunde zeigen mit…</translation>
    </message>
    <message>
      <source>Show only packs with…</source>
      <translation>Nur Akkus zeigen mit…</translation>
    </message>
    <message>
      <source>Show only rows with…</source>
      <translation>Nur Zeilen zeigen mit…</translation>
    </message>
    <message>
      <source>Show only what there is room for.</source>
      <translation>Nur zeigen, wofür Platz ist.</translation>
    </message>
    <message>
      <source>Show {what}</source>
      <translation>{what} zeigen</translation>
    </message>
    <message>
      <source>Side &amp;by Side</source>
      <translation>Nebeneinande&amp;r</translation>
    </message>
    <message>
      <source>Side by Side</source>
      <translation>Nebeneinander</translation>
    </message>
    <message>
      <source>Signature</source>
      <translation>Unterschrift</translation>
    </message>
    <message>
      <source>Size and mass</source>
      <translation>Größe und Masse</translation>
    </message>
    <message>
      <source>Size on screen</source>
      <translation>Größe am Bildschirm</translation>
    </message>
    <message>
      <source>Small electric</source>
      <translation>Kleines Elektromodell</translation>
    </message>
    <message>
      <source>Snag Sheet</source>
      <translation>Mängelliste</translation>
    </message>
    <message>
      <source>Snag found</source>
      <translation>Gefundener Mangel</translation>
    </message>
    <message>
      <source>Snags</source>
      <translation>Mängel</translation>
    </message>
    <message>
      <source>Snags &amp;&amp; findings</source>
      <translation>Mängel &amp;&amp; Befunde</translation>
    </message>
    <message>
      <source>Some aircraft of a club that does not exist, with faults to find. Nothing to lose.</source>
      <translation>Einige Flugzeuge eines Vereins, den es nicht gibt, mit Fehlern zum Finden. Nichts zu verlieren.</translation>
    </message>
    <message>
      <source>Some fields cannot be taken as they stand; see beside them.</source>
      <translation>Einige Felder sind so nicht zu übernehmen; siehe daneben.</translation>
    </message>
    <message>
      <source>Something went wrong</source>
      <translation>Etwas ging schief</translation>
    </message>
    <message>
      <source>Source</source>
      <translation>Quelle</translation>
    </message>
    <message>
      <source>Space or a click ticks it off</source>
      <translation>Leertaste oder Klick hakt ab</translation>
    </message>
    <message>
      <source>Space starts and holds the race, Left and Right step through it, Home goes back.</source>
      <translation>Die Leertaste startet und hält das Rennen, Links und Rechts gehen schrittweise, Pos1 geht zurück.</translation>
    </message>
    <message>
      <source>Spare arm screws {screw}</source>
      <translation>Ersatz-Armschrauben {screw}</translation>
    </message>
    <message>
      <source>Spare channel</source>
      <translation>Reservekanal</translation>
    </message>
    <message>
      <source>Spare from the Parts Bay</source>
      <translation>Ersatz aus dem Teilelager</translation>
    </message>
    <message>
      <source>Spare propeller {size} and its spanner</source>
      <translation>Ersatzpropeller {size} und sein Schlüssel</translation>
    </message>
    <message>
      <source>Spare {tag}, {type}</source>
      <translation>Ersatz {tag}, {type}</translation>
    </message>
    <message>
      <source>Spare {what}, {count} in the Parts Bay</source>
      <translation>Ersatz {what}, {count} im Teilelager</translation>
    </message>
    <message>
      <source>Spares and new may mi&amp;x</source>
      <translation>Ersatz und Neues gemischt (&amp;X)</translation>
    </message>
    <message>
      <source>Spares and new ones may mix</source>
      <translation>Ersatz und Neues gemischt</translation>
    </message>
    <message>
      <source>Spares by type</source>
      <translation>Ersatzteile nach Typ</translation>
    </message>
    <message>
      <source>Speed at {volts}</source>
      <translation>Stellzeit bei {volts}</translation>
    </message>
    <message>
      <source>Spent</source>
      <translation>Ausgegeben</translation>
    </message>
    <message>
      <source>Sport aeroplane</source>
      <translation>Sportmodell</translation>
    </message>
    <message>
      <source>Stage</source>
      <translation>Abschnitt</translation>
    </message>
    <message>
      <source>Stage {number} of {count}.</source>
      <translation>Abschnitt {number} von {count}.</translation>
    </message>
    <message>
      <source>Stages of a refit and the budget for the fleet count risk by it; the factors also weigh the shortage of torque that the search for the fleet makes least.</source>
      <translation>Danach zählen die Abschnitte eines Umbaus und das Budget der Flotte das Risiko; die Faktoren gewichten auch den Drehmomentmangel, den die Suche über die Flotte klein macht.</translation>
    </message>
    <message>
      <source>Stall torque from the ratings; blank where {volts} is outside them.</source>
      <translation>Blockiermoment aus den Kennwerten; leer, wo {volts} außerhalb liegen.</translation>
    </message>
    <message>
      <source>Stands with it</source>
      <translation>Gehört dazu</translation>
    </message>
    <message>
      <source>State of the aircraft shown</source>
      <translation>Zustand der gezeigten Flugzeuge</translation>
    </message>
    <message>
      <source>Steps can be fitted while the plan is in Fitting.</source>
      <translation>Schritte lassen sich ausführen, solange der Plan im Einbau ist.</translation>
    </message>
    <message>
      <source>Stick: answer</source>
      <translation>Knüppel: Antwort</translation>
    </message>
    <message>
      <source>Stopped: what this plan does is not worked out.</source>
      <translation>Angehalten: was dieser Plan bewirkt, ist nicht ausgerechnet.</translation>
    </message>
    <message>
      <source>Stopped; no row was taken.</source>
      <translation>Angehalten; keine Zeile wurde übernommen.</translation>
    </message>
    <message>
      <source>Stopped; nothing was brought in.</source>
      <translation>Angehalten; nichts wurde eingelesen.</translation>
    </message>
    <message>
      <source>Stopped; nothing was opened.</source>
      <translation>Angehalten; nichts wurde geöffnet.</translation>
    </message>
    <message>
      <source>Stopping…</source>
      <translation>Wird angehalten…</translation>
    </message>
    <message>
      <source>Storage and charging</source>
      <translation>Lagern und Laden</translation>
    </message>
    <message>
      <source>Storage list</source>
      <translation>Lagerliste</translation>
    </message>
    <message>
      <source>Store at {band}; its resting volts are not known</source>
      <translation>Bei {band} lagern; die Ruhespannung ist nicht bekannt</translation>
    </message>
    <message>
      <source>Supply</source>
      <translation>Versorgung</translation>
    </message>
    <message>
      <source>Supply may change</source>
      <translation>Versorgung darf sich ändern</translation>
    </message>
    <message>
      <source>Surfaces</source>
      <translation>Ruder</translation>
    </message>
    <message>
      <source>Swap servos of {one} and {other}</source>
      <translation>Servos von {one} und {other} tauschen</translation>
    </message>
    <message>
      <source>Switch types</source>
      <translation>Schaltertypen</translation>
    </message>
    <message>
      <source>Switches</source>
      <translation>Schalter</translation>
    </message>
    <message>
      <source>Tab and the arrow keys go from number to number, Enter tells how.</source>
      <translation>Tabulator und Pfeiltasten gehen von Zahl zu Zahl, die Eingabetaste sagt, wie sie entstand.</translation>
    </message>
    <message>
      <source>Tables (*.csv)</source>
      <translation>Tabellen (*.csv)</translation>
    </message>
    <message>
      <source>Tables and filled sheets (*.csv *.xlsx *.pdf)</source>
      <translation>Tabellen und ausgefüllte Blätter (*.csv *.xlsx *.pdf)</translation>
    </message>
    <message>
      <source>Tables of the leads</source>
      <translation>Tabellen der Leitungen</translation>
    </message>
    <message>
      <source>Tables of the logbook</source>
      <translation>Tabellen des Bordbuchs</translation>
    </message>
    <message>
      <source>Tables of this aircraft</source>
      <translation>Tabellen dieses Flugzeugs</translation>
    </message>
    <message>
      <source>Tag of the new servo</source>
      <translation>Kennung des neuen Servos</translation>
    </message>
    <message>
      <source>Tag of the part</source>
      <translation>Kennung des Teils</translation>
    </message>
    <message>
      <source>Tag of the part that goes in</source>
      <translation>Kennung des Teils, das hineinkommt</translation>
    </message>
    <message>
      <source>Tag {tag} is in use; choose another one.</source>
      <translation>Kennung {tag} ist vergeben; eine andere wählen.</translation>
    </message>
    <message>
      <source>Tail rotor</source>
      <translation>Heckrotor</translation>
    </message>
    <message>
      <source>Take</source>
      <translation>Nehmen</translation>
    </message>
    <message>
      <source>Take &amp;none</source>
      <translation>&amp;Keines nehmen</translation>
    </message>
    <message>
      <source>Take along</source>
      <translation>Mitnehmen</translation>
    </message>
    <message>
      <source>Take back</source>
      <translation>Zurücknehmen</translation>
    </message>
    <message>
      <source>Take back the acceptance of {rule}</source>
      <translation>Annahme von {rule} zurücknehmen</translation>
    </message>
    <message>
      <source>Take it off, to the Parts Bay</source>
      <translation>Ausbauen, ins Teilelager</translation>
    </message>
    <message>
      <source>Take servo {tag} off {position}</source>
      <translation>Servo {tag} von {position} ausbauen</translation>
    </message>
    <message>
      <source>Take tables out to a folder</source>
      <translation>Tabellen in einen Ordner ausgeben</translation>
    </message>
    <message>
      <source>Take the servo off and put it in the Parts Bay</source>
      <translation>Das Servo ausbauen und ins Teilelager legen</translation>
    </message>
    <message>
      <source>Take the tick at {what} back</source>
      <translation>Haken bei {what} zurücknehmen</translation>
    </message>
    <message>
      <source>Takes</source>
      <translation>Dauert</translation>
    </message>
    <message>
      <source>Taking the rows…</source>
      <translation>Die Zeilen werden übernommen…</translation>
    </message>
    <message>
      <source>Temperature of the packs</source>
      <translation>Temperatur der Akkus</translation>
    </message>
    <message>
      <source>Test under load</source>
      <translation>Unter Last prüfen</translation>
    </message>
    <message>
      <source>Tested under load</source>
      <translation>Unter Last geprüft</translation>
    </message>
    <message>
      <source>Text &amp;larger</source>
      <translation>Schrift &amp;größer</translation>
    </message>
    <message>
      <source>Text &amp;smaller</source>
      <translation>Schrift &amp;kleiner</translation>
    </message>
    <message>
      <source>Text of &amp;usual size</source>
      <translation>Schrift in &amp;üblicher Größe</translation>
    </message>
    <message>
      <source>That is below the {volts} of {what}.</source>
      <translation>Das liegt unter den {volts} von {what}.</translation>
    </message>
    <message>
      <source>The aircraft as it is needs no plan; choose another point.</source>
      <translation>Das Flugzeug, wie es ist, braucht keinen Plan; einen anderen Punkt wählen.</translation>
    </message>
    <message>
      <source>The aircraft that is to be refitted.</source>
      <translation>Das Flugzeug, das umgerüstet werden soll.</translation>
    </message>
    <message>
      <source>The budget "{text}" is not a number.</source>
      <translation>Das Budget „{text}“ ist keine Zahl.</translation>
    </message>
    <message>
      <source>The budget is {text}; 0 or more is allowed.</source>
      <translation>Das Budget ist {text}; erlaubt ist 0 oder mehr.</translation>
    </message>
    <message>
      <source>The bus fails already as it is, and with this servo too: {why}</source>
      <translation>Der Bus bricht schon jetzt ein, und mit diesem Servo auch: {why}</translation>
    </message>
    <message>
      <source>The bus may not fall below these volts at peak current; empty means no limit.</source>
      <translation>Der Bus darf bei Spitzenstrom nicht unter diese Spannung fallen; leer heißt keine Grenze.</translation>
    </message>
    <message>
      <source>The checks need one number with its unit, such as 250 g; "{text}" is none.</source>
      <translation>Die Prüfungen brauchen eine Zahl mit Einheit wie 250 g; „{text}“ ist keine.</translation>
    </message>
    <message>
      <source>The checks use</source>
      <translation>Die Prüfung nimmt</translation>
    </message>
    <message>
      <source>The chosen finding in full</source>
      <translation>Der gewählte Befund im Ganzen</translation>
    </message>
    <message>
      <source>The chosen pack</source>
      <translation>Der gewählte Akku</translation>
    </message>
    <message>
      <source>The chosen refit in full</source>
      <translation>Der gewählte Umbau im Ganzen</translation>
    </message>
    <message>
      <source>The date "{text}" is no day of the calendar; write it as 2026-04-01, or leave it empty.</source>
      <translation>Das Datum „{text}“ ist kein Tag des Kalenders; schreiben Sie es wie 2026-04-01 oder lassen Sie es leer.</translation>
    </message>
    <message>
      <source>The day lies in the past; choose today or a later day.</source>
      <translation>Der Tag liegt in der Vergangenheit; heute oder einen späteren wählen.</translation>
    </message>
    <message>
      <source>The direction of {codes} is noted as wrong; put it right before {gate}.</source>
      <translation>Die Laufrichtung von {codes} ist als falsch notiert; vor {gate} richtigstellen.</translation>
    </message>
    <message>
      <source>The first {count} of many; more words find less.</source>
      <translation>Die ersten {count} von vielen; mehr Wörter finden weniger.</translation>
    </message>
    <message>
      <source>The fleet has changed since this search.</source>
      <translation>Die Flotte hat sich seit dieser Suche geändert.</translation>
    </message>
    <message>
      <source>The language changes at the next start.</source>
      <translation>Die Sprache wechselt beim nächsten Start.</translation>
    </message>
    <message>
      <source>The last edit changed no finding.</source>
      <translation>Die letzte Änderung änderte keinen Befund.</translation>
    </message>
    <message>
      <source>The last edit: {gone}, {new}. {first}</source>
      <translation>Die letzte Änderung: {gone}, {new}. {first}</translation>
    </message>
    <message>
      <source>The limit "{text}" is not a number; a number such as 1.5 is wanted.</source>
      <translation>Die Grenze „{text}“ ist keine Zahl; verlangt ist eine Zahl wie 1.5.</translation>
    </message>
    <message>
      <source>The limit is passed.</source>
      <translation>Die Grenze ist überschritten.</translation>
    </message>
    <message>
      <source>The limit is {text}; {allowed} is allowed.</source>
      <translation>Der Grenzwert ist {text}; erlaubt ist {allowed}.</translation>
    </message>
    <message>
      <source>The linkage in words</source>
      <translation>Die Anlenkung in Worten</translation>
    </message>
    <message>
      <source>The load is known, the servo's torque is not; the load is worked for {speed}.</source>
      <translation>Die Last ist bekannt, das Moment des Servos nicht; gerechnet für {speed}.</translation>
    </message>
    <message>
      <source>The maker's manual, the club's rules and the law govern. Computed loads are estimates.</source>
      <translation>Es gelten Herstelleranleitung, Vereinsregeln und Gesetz. Gerechnete Lasten sind Schätzungen.</translation>
    </message>
    <message>
      <source>The maker's manual, the club's rules and the law govern; where Hangar differs, they are right.</source>
      <translation>Es gelten Herstelleranleitung, Vereinsregeln und Gesetz; wo Hangar abweicht, haben sie recht.</translation>
    </message>
    <message>
      <source>The money "{text}" is not a number; a number such as 120 is wanted.</source>
      <translation>Das Geld „{text}“ ist keine Zahl; gebraucht wird eine Zahl wie 120.</translation>
    </message>
    <message>
      <source>The money is {text}; 0 to {most} is allowed.</source>
      <translation>Das Geld ist {text}; erlaubt ist 0 bis {most}.</translation>
    </message>
    <message>
      <source>The plan has no line yet.</source>
      <translation>Der Plan hat noch keine Zeile.</translation>
    </message>
    <message>
      <source>The plan is {state}; move it to Fitting first.</source>
      <translation>Der Plan ist {state}; zuerst in den Einbau bringen.</translation>
    </message>
    <message>
      <source>The printer stopped after {count} page.</source>
      <translation>Der Drucker hielt nach {count} Seite an.</translation>
    </message>
    <message>
      <source>The printer stopped after {count} pages.</source>
      <translation>Der Drucker hielt nach {count} Seiten an.</translation>
    </message>
    <message>
      <source>The printer {name} does not take the pages.</source>
      <translation>Der Drucker {name} nimmt die Seiten nicht an.</translation>
    </message>
    <message>
      <source>The reason is empty; write why this finding is accepted.</source>
      <translation>Der Grund ist leer; schreiben, warum dieser Befund angenommen wird.</translation>
    </message>
    <message>
      <source>The servo holds the design load up to {limit}; the load is worked for {speed}.</source>
      <translation>Das Servo hält die Auslegungslast bis {limit}; gerechnet für {speed}.</translation>
    </message>
    <message>
      <source>The snag was raised on {day}; it cannot be closed before.</source>
      <translation>Der Mangel wurde am {day} gemeldet; vorher kann er nicht geschlossen werden.</translation>
    </message>
    <message>
      <source>The system has no program to open {path} with.</source>
      <translation>Das System hat kein Programm, das {path} öffnet.</translation>
    </message>
    <message>
      <source>The tag is empty; every servo needs a tag of its own.</source>
      <translation>Die Kennung ist leer; jedes Servo braucht eine eigene.</translation>
    </message>
    <message>
      <source>The text in force and the rules of the club govern; these figures are aids.</source>
      <translation>Es gelten der Text in Kraft und die Regeln des Vereins; diese Zahlen sind Hilfen.</translation>
    </message>
    <message>
      <source>The {count} chosen</source>
      <translation>Die {count} gewählten</translation>
    </message>
    <message>
      <source>Then: {words}. {basis}</source>
      <translation>Dann: {words}. {basis}</translation>
    </message>
    <message>
      <source>There is a {what} {name} already; choose another one.</source>
      <translation>{what} {name} gibt es schon; einen anderen Namen wählen.</translation>
    </message>
    <message>
      <source>There is no aircraft to enter readings for.</source>
      <translation>Es gibt kein Flugzeug, für das Werte einzugeben wären.</translation>
    </message>
    <message>
      <source>There is no servo at {position} to take off.</source>
      <translation>An {position} ist kein Servo auszubauen.</translation>
    </message>
    <message>
      <source>There is no servo at {position}; nothing to swap.</source>
      <translation>An {position} ist kein Servo; nichts zu tauschen.</translation>
    </message>
    <message>
      <source>There is no {what} {tag} on record.</source>
      <translation>{what} {tag} ist nicht eingetragen.</translation>
    </message>
    <message>
      <source>There is nothing to paste; copy some rows of a table first.</source>
      <translation>Nichts einzufügen; zuerst Zeilen einer Tabelle kopieren.</translation>
    </message>
    <message>
      <source>Thermal sailplane</source>
      <translation>Thermiksegler</translation>
    </message>
    <message>
      <source>These tables are not kept in a fleet file; what you change lasts until you close them.</source>
      <translation>Diese Tabellen stehen in keiner Flottendatei; Änderungen halten, bis sie geschlossen werden.</translation>
    </message>
    <message>
      <source>This could not be worked out.</source>
      <translation>Das ließ sich nicht ausrechnen.</translation>
    </message>
    <message>
      <source>This fleet is not kept in a fleet file, and you changed it.</source>
      <translation>Diese Flotte steht in keiner Flottendatei, und sie wurde geändert.</translation>
    </message>
    <message>
      <source>This fleet is open for reading only{held}.</source>
      <translation>Diese Flotte ist nur zum Lesen offen{held}.</translation>
    </message>
    <message>
      <source>This page is in English.</source>
      <translation>Diese Seite gibt es nur auf Englisch.</translation>
    </message>
    <message>
      <source>This page met a fault of Hangar's own and cannot be shown; go on with the other pages, your fleet is as it was after the last edit, and send the details to who looks after Hangar.</source>
      <translation>Diese Seite ist auf einen Fehler von Hangar selbst gestoßen und kann nicht gezeigt werden; arbeiten Sie mit den anderen Seiten weiter, Ihre Flotte ist, wie sie nach der letzten Änderung war, und schicken Sie die Einzelheiten an die Stelle, die Hangar pflegt.</translation>
    </message>
    <message>
      <source>This row</source>
      <translation>Diese Zeile</translation>
    </message>
    <message>
      <source>Throw down,
reached</source>
      <translation>Ausschlag ab,
erreicht</translation>
    </message>
    <message>
      <source>Throw of the surface</source>
      <translation>Ausschlag des Ruders</translation>
    </message>
    <message>
      <source>Throw up,
reached</source>
      <translation>Ausschlag auf,
erreicht</translation>
    </message>
    <message>
      <source>Throw {way}: the linkage reaches {reached}, {wanted} is wanted.</source>
      <translation>Ausschlag {way}: die Anlenkung erreicht {reached}, verlangt ist {wanted}.</translation>
    </message>
    <message>
      <source>Throws right</source>
      <translation>Ausschläge richtig</translation>
    </message>
    <message>
      <source>Tick positions whose servo and lead stay, whatever else is changed.</source>
      <translation>Positionen ankreuzen, deren Servo und Leitung bleiben, was auch sonst geändert wird.</translation>
    </message>
    <message>
      <source>Tick proof {gate}</source>
      <translation>Nachweis {gate} abhaken</translation>
    </message>
    <message>
      <source>Tick the aircraft that go along; the lists for the day appear here.</source>
      <translation>Die Flugzeuge anhaken, die mitkommen; die Listen für den Tag erscheinen hier.</translation>
    </message>
    <message>
      <source>Tick {what} off</source>
      <translation>{what} abhaken</translation>
    </message>
    <message>
      <source>Ties</source>
      <translation>Binder</translation>
    </message>
    <message>
      <source>Time left</source>
      <translation>Restzeit</translation>
    </message>
    <message>
      <source>Time line</source>
      <translation>Zeitverlauf</translation>
    </message>
    <message>
      <source>Times the wa&amp;nted margin</source>
      <translation>Mal der &amp;verlangten Reserve</translation>
    </message>
    <message>
      <source>To &amp;storage</source>
      <translation>Zur &amp;Lagerung</translation>
    </message>
    <message>
      <source>To buy</source>
      <translation>Zu kaufen</translation>
    </message>
    <message>
      <source>To charge it</source>
      <translation>Zum Laden</translation>
    </message>
    <message>
      <source>To take from the Parts Bay</source>
      <translation>Aus dem Teilelager zu nehmen</translation>
    </message>
    <message>
      <source>Together</source>
      <translation>Zusammen</translation>
    </message>
    <message>
      <source>Tools and spares</source>
      <translation>Werkzeug und Ersatzteile</translation>
    </message>
    <message>
      <source>Torque
needed</source>
      <translation>Moment
nötig</translation>
    </message>
    <message>
      <source>Torque
there</source>
      <translation>Moment
dort</translation>
    </message>
    <message>
      <source>Torque against air speed</source>
      <translation>Moment über die Fluggeschwindigkeit</translation>
    </message>
    <message>
      <source>Torque against air speed in words</source>
      <translation>Moment über die Fluggeschwindigkeit in Worten</translation>
    </message>
    <message>
      <source>Torque at {volts}</source>
      <translation>Drehmoment bei {volts}</translation>
    </message>
    <message>
      <source>Torque ratio (hinge over servo)</source>
      <translation>Momentverhältnis (Scharnier zu Servo)</translation>
    </message>
    <message>
      <source>Torque, rated</source>
      <translation>Nennmoment</translation>
    </message>
    <message>
      <source>Totals of the cut list</source>
      <translation>Summen der Zuschnittliste</translation>
    </message>
    <message>
      <source>Totals of the supply</source>
      <translation>Summen der Stromversorgung</translation>
    </message>
    <message>
      <source>Tow line with its weak link</source>
      <translation>Schleppseil mit Sollbruchstelle</translation>
    </message>
    <message>
      <source>Tr&amp;y-out</source>
      <translation>Aus&amp;probieren</translation>
    </message>
    <message>
      <source>Transmitter, charged</source>
      <translation>Sender, geladen</translation>
    </message>
    <message>
      <source>Tried</source>
      <translation>Versucht</translation>
    </message>
    <message>
      <source>Try things out at this position on a copy (Ctrl+Shift+T)</source>
      <translation>An dieser Position an einer Kopie probieren (Strg+Umschalt+T)</translation>
    </message>
    <message>
      <source>Try things out here</source>
      <translation>Hier etwas ausprobieren</translation>
    </message>
    <message>
      <source>Turbine jet</source>
      <translation>Turbinenjet</translation>
    </message>
    <message>
      <source>Type Library</source>
      <translation>Typenbibliothek</translation>
    </message>
    <message>
      <source>Unit of {kind}</source>
      <translation>Einheit für {kind}</translation>
    </message>
    <message>
      <source>Units and money</source>
      <translation>Einheiten und Geld</translation>
    </message>
    <message>
      <source>Untick proof {gate}</source>
      <translation>Haken von Nachweis {gate} nehmen</translation>
    </message>
    <message>
      <source>Up or left, degrees</source>
      <translation>Oben oder links, Grad</translation>
    </message>
    <message>
      <source>Up or left, millimetres</source>
      <translation>Oben oder links, Millimeter</translation>
    </message>
    <message>
      <source>Upwards</source>
      <translation>Aufwärts</translation>
    </message>
    <message>
      <source>V&amp;olts</source>
      <translation>V&amp;olt</translation>
    </message>
    <message>
      <source>Velocity ratio (surface ° per arm °)</source>
      <translation>Wegübersetzung (Ruder ° je Arm °)</translation>
    </message>
    <message>
      <source>Verdicts</source>
      <translation>Urteile</translation>
    </message>
    <message>
      <source>Volts
there</source>
      <translation>Volt
dort</translation>
    </message>
    <message>
      <source>Volts at both servos</source>
      <translation>Spannung an beiden Servos</translation>
    </message>
    <message>
      <source>Volts in flight</source>
      <translation>Spannung im Flug</translation>
    </message>
    <message>
      <source>Volts, gauge or radius</source>
      <translation>Volt, Stärke oder Radius</translation>
    </message>
    <message>
      <source>Warnings left: {count}</source>
      <translation>Verbleibende Warnungen: {count}</translation>
    </message>
    <message>
      <source>Weakest margin</source>
      <translation>Schwächste Reserve</translation>
    </message>
    <message>
      <source>Weakest margin {before} → {after}</source>
      <translation>Schwächste Reserve {before} → {after}</translation>
    </message>
    <message>
      <source>Wearing: look at it more often</source>
      <translation>Altert: öfter ansehen</translation>
    </message>
    <message>
      <source>What a plan can hold</source>
      <translation>Was ein Plan aufnehmen kann</translation>
    </message>
    <message>
      <source>What an arm for another spline costs you where the library has no price for one.</source>
      <translation>Was ein Hebel für eine andere Verzahnung kostet, wenn die Bibliothek keinen Preis dafür hat.</translation>
    </message>
    <message>
      <source>What became of it</source>
      <translation>Was daraus wurde</translation>
    </message>
    <message>
      <source>What becomes of it</source>
      <translation>Was daraus wird</translation>
    </message>
    <message>
      <source>What can be changed</source>
      <translation>Was sich ändern lässt</translation>
    </message>
    <message>
      <source>What changes</source>
      <translation>Was sich ändert</translation>
    </message>
    <message>
      <source>What each aircraft gets</source>
      <translation>Was jedes Flugzeug bekommt</translation>
    </message>
    <message>
      <source>What each stage does</source>
      <translation>Was jeder Abschnitt tut</translation>
    </message>
    <message>
      <source>What falls due</source>
      <translation>Was fällig wird</translation>
    </message>
    <message>
      <source>What is done</source>
      <translation>Was getan wird</translation>
    </message>
    <message>
      <source>What is missing</source>
      <translation>Was fehlt</translation>
    </message>
    <message>
      <source>What is missing before release</source>
      <translation>Was vor der Freigabe fehlt</translation>
    </message>
    <message>
      <source>What is not known</source>
      <translation>Was nicht bekannt ist</translation>
    </message>
    <message>
      <source>What it could change</source>
      <translation>Was es ändern könnte</translation>
    </message>
    <message>
      <source>What it limits</source>
      <translation>Was sie begrenzt</translation>
    </message>
    <message>
      <source>What one lead in another gauge costs you.</source>
      <translation>Was eine Leitung anderer Stärke kostet.</translation>
    </message>
    <message>
      <source>What the last edit did to the findings</source>
      <translation>Was die letzte Änderung an den Befunden tat</translation>
    </message>
    <message>
      <source>What this reading says</source>
      <translation>Was dieser Messwert sagt</translation>
    </message>
    <message>
      <source>What to do</source>
      <translation>Was zu tun ist</translation>
    </message>
    <message>
      <source>What to do this month and next, the most risk gone first.</source>
      <translation>Was diesen Monat und nächsten zu tun ist, das meiste Risiko zuerst beseitigt.</translation>
    </message>
    <message>
      <source>What was done</source>
      <translation>Was getan wurde</translation>
    </message>
    <message>
      <source>What was done is missing; it must be given.</source>
      <translation>Was getan wurde, fehlt; es muss angegeben werden.</translation>
    </message>
    <message>
      <source>What was found</source>
      <translation>Was gefunden wurde</translation>
    </message>
    <message>
      <source>What was logged</source>
      <translation>Was eingetragen wurde</translation>
    </message>
    <message>
      <source>What was worked out</source>
      <translation>Was ausgerechnet wurde</translation>
    </message>
    <message>
      <source>What was written</source>
      <translation>Was geschrieben wurde</translation>
    </message>
    <message>
      <source>When</source>
      <translation>Wann</translation>
    </message>
    <message>
      <source>When and why</source>
      <translation>Wann und warum</translation>
    </message>
    <message>
      <source>Where</source>
      <translation>Wo</translation>
    </message>
    <message>
      <source>Where has this part been?</source>
      <translation>Wo war dieses Teil?</translation>
    </message>
    <message>
      <source>Where has {tag} been?</source>
      <translation>Wo war {tag}?</translation>
    </message>
    <message>
      <source>Where it has been</source>
      <translation>Wo es war</translation>
    </message>
    <message>
      <source>Where they are</source>
      <translation>Wo sie sind</translation>
    </message>
    <message>
      <source>Whether pack, regulator and switch may be changed for others.</source>
      <translation>Ob Akku, Regler und Schalter gegen andere getauscht werden dürfen.</translation>
    </message>
    <message>
      <source>Whether servos that work together may be part spares, part new ones of one type.</source>
      <translation>Ob Servos, die zusammen arbeiten, teils Ersatzteile, teils neue desselben Typs sein dürfen.</translation>
    </message>
    <message>
      <source>Whether the plan is being worked out</source>
      <translation>Ob der Plan gerade ausgerechnet wird</translation>
    </message>
    <message>
      <source>Whether the radio may get a second pack on a board that isolates it from the first, so that one plug or one cell decides no flight alone.</source>
      <translation>Ob der Empfang einen zweiten Akku über eine Weiche bekommen darf, die ihn vom ersten trennt, damit kein einzelner Stecker und keine einzelne Zelle über einen Flug entscheidet.</translation>
    </message>
    <message>
      <source>Who it is</source>
      <translation>Wer es ist</translation>
    </message>
    <message>
      <source>Whole page</source>
      <translation>Ganze Seite</translation>
    </message>
    <message>
      <source>Why not this servo</source>
      <translation>Warum nicht dieses Servo</translation>
    </message>
    <message>
      <source>Why this page is not shown</source>
      <translation>Warum diese Seite nicht gezeigt wird</translation>
    </message>
    <message>
      <source>Why this stage does what it does</source>
      <translation>Warum dieser Abschnitt tut, was er tut</translation>
    </message>
    <message>
      <source>Wing tape and ballast</source>
      <translation>Flächenband und Ballast</translation>
    </message>
    <message>
      <source>With &amp;prices</source>
      <translation>Mit &amp;Preisen</translation>
    </message>
    <message>
      <source>With own &amp;details: mark, club number, notes</source>
      <translation>Eigene An&amp;gaben: Kennzeichen, Notizen</translation>
    </message>
    <message>
      <source>With what the stages before left over.</source>
      <translation>Mit dem, was die Abschnitte davor übrig ließen.</translation>
    </message>
    <message>
      <source>Without a file the changes are lost.</source>
      <translation>Ohne Datei gehen die Änderungen verloren.</translation>
    </message>
    <message>
      <source>Without a signal</source>
      <translation>Ohne Signal</translation>
    </message>
    <message>
      <source>Without load, from the ratings; blank where {volts} is outside them.</source>
      <translation>Ohne Last, aus den Kennwerten; leer, wo {volts} außerhalb liegen.</translation>
    </message>
    <message>
      <source>Without {what}, whose price is not known.</source>
      <translation>Ohne {what}, dessen Preis nicht bekannt ist.</translation>
    </message>
    <message>
      <source>Work it o&amp;ut</source>
      <translation>A&amp;usrechnen</translation>
    </message>
    <message>
      <source>Working</source>
      <translation>Rechenweg</translation>
    </message>
    <message>
      <source>Working of the chosen number</source>
      <translation>Rechenweg der gewählten Zahl</translation>
    </message>
    <message>
      <source>Working out which missing figure matters most…</source>
      <translation>Es wird ausgerechnet, welche fehlende Angabe am meisten ausmacht …</translation>
    </message>
    <message>
      <source>Working out why…</source>
      <translation>Warum, wird gerechnet…</translation>
    </message>
    <message>
      <source>Workshop Rules</source>
      <translation>Werkstattregeln</translation>
    </message>
    <message>
      <source>Worn out or hurt: it must not carry flight controls</source>
      <translation>Verbraucht oder beschädigt: darf keine Flugsteuerung speisen</translation>
    </message>
    <message>
      <source>Worth measuring next</source>
      <translation>Als Nächstes messen</translation>
    </message>
    <message>
      <source>Write a file</source>
      <translation>Datei schreiben</translation>
    </message>
    <message>
      <source>Written to {path}.</source>
      <translation>Geschrieben in {path}.</translation>
    </message>
    <message>
      <source>a country or a body</source>
      <translation>ein Land oder ein Verband</translation>
    </message>
    <message>
      <source>a figure with its unit, a range, or words</source>
      <translation>eine Zahl mit Einheit, ein Bereich oder Worte</translation>
    </message>
    <message>
      <source>a limit of the check, as set in Workshop Rules</source>
      <translation>eine Grenze der Prüfung, wie in den Werkstattregeln festgelegt</translation>
    </message>
    <message>
      <source>about</source>
      <translation>betrifft</translation>
    </message>
    <message>
      <source>absolute</source>
      <translation>absolut</translation>
    </message>
    <message>
      <source>acceptance</source>
      <translation>Hinnahme</translation>
    </message>
    <message>
      <source>accepted by</source>
      <translation>hingenommen von</translation>
    </message>
    <message>
      <source>acquired from</source>
      <translation>erworben von</translation>
    </message>
    <message>
      <source>acquired on</source>
      <translation>erworben am</translation>
    </message>
    <message>
      <source>across the plan view</source>
      <translation>quer in der Draufsicht</translation>
    </message>
    <message>
      <source>action</source>
      <translation>Handlung</translation>
    </message>
    <message>
      <source>added</source>
      <translation>zugefügt</translation>
    </message>
    <message>
      <source>added on</source>
      <translation>zugefügt am</translation>
    </message>
    <message>
      <source>adds a row</source>
      <translation>fügt eine Zeile zu</translation>
    </message>
    <message>
      <source>advisories</source>
      <translation>Hinweise</translation>
    </message>
    <message>
      <source>advisory</source>
      <translation>Hinweis</translation>
    </message>
    <message>
      <source>aerobatic-3d</source>
      <translation>3D-Kunstflug</translation>
    </message>
    <message>
      <source>aft of the hinge</source>
      <translation>hinter dem Scharnier</translation>
    </message>
    <message>
      <source>after crash</source>
      <translation>nach Absturz</translation>
    </message>
    <message>
      <source>after refit</source>
      <translation>nach Umbau</translation>
    </message>
    <message>
      <source>aileron</source>
      <translation>Querruder</translation>
    </message>
    <message>
      <source>air speed, {unit}</source>
      <translation>Fluggeschwindigkeit, {unit}</translation>
    </message>
    <message>
      <source>air temperature</source>
      <translation>Lufttemperatur</translation>
    </message>
    <message>
      <source>aircraft</source>
      <translation>Flugzeug</translation>
    </message>
    <message>
      <source>all in carbon</source>
      <translation>ganz in Kohlefaser</translation>
    </message>
    <message>
      <source>all-moving</source>
      <translation>Pendelruder</translation>
    </message>
    <message>
      <source>all-up mass</source>
      <translation>Abflugmasse</translation>
    </message>
    <message>
      <source>along the plan view</source>
      <translation>längs in der Draufsicht</translation>
    </message>
    <message>
      <source>aluminium</source>
      <translation>Aluminium</translation>
    </message>
    <message>
      <source>analog</source>
      <translation>analog</translation>
    </message>
    <message>
      <source>and {count} more</source>
      <translation>und {count} weitere</translation>
    </message>
    <message>
      <source>angle of attack that adds</source>
      <translation>Anstellwinkel, der dazukommt</translation>
    </message>
    <message>
      <source>antenna route</source>
      <translation>Antennenweg</translation>
    </message>
    <message>
      <source>arm</source>
      <translation>Arm</translation>
    </message>
    <message>
      <source>arm material</source>
      <translation>Armwerkstoff</translation>
    </message>
    <message>
      <source>arm radius</source>
      <translation>Armradius</translation>
    </message>
    <message>
      <source>arm screw</source>
      <translation>Armschraube</translation>
    </message>
    <message>
      <source>arm screw fitted</source>
      <translation>Armschraube eingebaut</translation>
    </message>
    <message>
      <source>arm screw locked</source>
      <translation>Armschraube gesichert</translation>
    </message>
    <message>
      <source>arm spline diameter</source>
      <translation>Verzahnungsdurchmesser des Arms</translation>
    </message>
    <message>
      <source>arm spline teeth</source>
      <translation>Zähne des Arms</translation>
    </message>
    <message>
      <source>arm to rod at neutral</source>
      <translation>Arm zu Gestänge bei neutral</translation>
    </message>
    <message>
      <source>arm to rod {angle}</source>
      <translation>Arm zu Gestänge {angle}</translation>
    </message>
    <message>
      <source>as fitted</source>
      <translation>wie eingebaut</translation>
    </message>
    <message>
      <source>as it is</source>
      <translation>wie es ist</translation>
    </message>
    <message>
      <source>as shipped: {value}</source>
      <translation>mitgeliefert: {value}</translation>
    </message>
    <message>
      <source>aspect ratio of the whole panel</source>
      <translation>Streckung der ganzen Fläche</translation>
    </message>
    <message>
      <source>at</source>
      <translation>bei</translation>
    </message>
    <message>
      <source>at least</source>
      <translation>mindestens</translation>
    </message>
    <message>
      <source>at least {value}</source>
      <translation>mindestens {value}</translation>
    </message>
    <message>
      <source>at most</source>
      <translation>höchstens</translation>
    </message>
    <message>
      <source>at peak</source>
      <translation>bei Spitze</translation>
    </message>
    <message>
      <source>at peak current the bus falls to {volts}; {device} works down to {least}.</source>
      <translation>bei Spitzenstrom fällt der Bus auf {volts}; {device} arbeitet bis {least} hinunter.</translation>
    </message>
    <message>
      <source>balance datum</source>
      <translation>Bezugspunkt des Schwerpunkts</translation>
    </message>
    <message>
      <source>balance measured</source>
      <translation>Schwerpunkt gemessen</translation>
    </message>
    <message>
      <source>balance measured on</source>
      <translation>Schwerpunkt gemessen am</translation>
    </message>
    <message>
      <source>balance, aft limit</source>
      <translation>Schwerpunkt, hintere Grenze</translation>
    </message>
    <message>
      <source>balance, fore limit</source>
      <translation>Schwerpunkt, vordere Grenze</translation>
    </message>
    <message>
      <source>ball link</source>
      <translation>Kugelgelenk</translation>
    </message>
    <message>
      <source>ball play</source>
      <translation>Kugelspiel</translation>
    </message>
    <message>
      <source>band</source>
      <translation>Band</translation>
    </message>
    <message>
      <source>bare carbon, metal or glass</source>
      <translation>blanke Kohlefaser, Metall oder Glas</translation>
    </message>
    <message>
      <source>bare wood</source>
      <translation>blankes Holz</translation>
    </message>
    <message>
      <source>begun on</source>
      <translation>begonnen am</translation>
    </message>
    <message>
      <source>begun {day}</source>
      <translation>begonnen {day}</translation>
    </message>
    <message>
      <source>belt</source>
      <translation>Riemen</translation>
    </message>
    <message>
      <source>bench check</source>
      <translation>Werkbankprüfung</translation>
    </message>
    <message>
      <source>bench-proved</source>
      <translation>auf der Werkbank bewährt</translation>
    </message>
    <message>
      <source>bench-tested</source>
      <translation>auf der Werkbank geprüft</translation>
    </message>
    <message>
      <source>better</source>
      <translation>besser</translation>
    </message>
    <message>
      <source>bin</source>
      <translation>Fach</translation>
    </message>
    <message>
      <source>bin {bin}</source>
      <translation>Fach {bin}</translation>
    </message>
    <message>
      <source>blade chord</source>
      <translation>Blatttiefe</translation>
    </message>
    <message>
      <source>blade grip arm</source>
      <translation>Blatthalterarm</translation>
    </message>
    <message>
      <source>blade length</source>
      <translation>Blattlänge</translation>
    </message>
    <message>
      <source>blade mass</source>
      <translation>Blattmasse</translation>
    </message>
    <message>
      <source>blades</source>
      <translation>Blätter</translation>
    </message>
    <message>
      <source>bought</source>
      <translation>gekauft</translation>
    </message>
    <message>
      <source>bought on</source>
      <translation>gekauft am</translation>
    </message>
    <message>
      <source>bought used</source>
      <translation>gebraucht gekauft</translation>
    </message>
    <message>
      <source>bought {day}</source>
      <translation>gekauft {day}</translation>
    </message>
    <message>
      <source>brake</source>
      <translation>Bremse</translation>
    </message>
    <message>
      <source>brisk</source>
      <translation>zügig</translation>
    </message>
    <message>
      <source>bundle diameter</source>
      <translation>Bündeldurchmesser</translation>
    </message>
    <message>
      <source>burst current</source>
      <translation>Stoßstrom</translation>
    </message>
    <message>
      <source>burst time</source>
      <translation>Stoßdauer</translation>
    </message>
    <message>
      <source>bus</source>
      <translation>Bus</translation>
    </message>
    <message>
      <source>bus current limit</source>
      <translation>Stromgrenze des Busses</translation>
    </message>
    <message>
      <source>bus volts aimed at</source>
      <translation>angestrebte Busspannung</translation>
    </message>
    <message>
      <source>bus volts, V</source>
      <translation>Spannung, V</translation>
    </message>
    <message>
      <source>by a belt</source>
      <translation>über einen Riemen</translation>
    </message>
    <message>
      <source>by code</source>
      <translation>nach Kürzel</translation>
    </message>
    <message>
      <source>cable tension</source>
      <translation>Seilspannung</translation>
    </message>
    <message>
      <source>can't tell</source>
      <translation>nicht zu sagen</translation>
    </message>
    <message>
      <source>cannot be judged without it</source>
      <translation>ohne das nicht zu beurteilen</translation>
    </message>
    <message>
      <source>cannot be read</source>
      <translation>nicht lesbar</translation>
    </message>
    <message>
      <source>cant-tell</source>
      <translation>nicht zu sagen</translation>
    </message>
    <message>
      <source>capacity</source>
      <translation>Kapazität</translation>
    </message>
    <message>
      <source>capacity measured</source>
      <translation>Kapazität gemessen</translation>
    </message>
    <message>
      <source>capacity measured on</source>
      <translation>Kapazität gemessen am</translation>
    </message>
    <message>
      <source>capacity test</source>
      <translation>Kapazitätsprüfung</translation>
    </message>
    <message>
      <source>carbon</source>
      <translation>Kohlefaser</translation>
    </message>
    <message>
      <source>case height</source>
      <translation>Gehäusehöhe</translation>
    </message>
    <message>
      <source>case length</source>
      <translation>Gehäuselänge</translation>
    </message>
    <message>
      <source>case width</source>
      <translation>Gehäusebreite</translation>
    </message>
    <message>
      <source>caution</source>
      <translation>Bedenken</translation>
    </message>
    <message>
      <source>cautions</source>
      <translation>Bedenken</translation>
    </message>
    <message>
      <source>cell</source>
      <translation>Zelle</translation>
    </message>
    <message>
      <source>cell reading</source>
      <translation>Zellenmesswert</translation>
    </message>
    <message>
      <source>cells in parallel</source>
      <translation>Zellen parallel</translation>
    </message>
    <message>
      <source>cells in series</source>
      <translation>Zellen in Reihe</translation>
    </message>
    <message>
      <source>centre</source>
      <translation>Mitte</translation>
    </message>
    <message>
      <source>centre ok</source>
      <translation>Mitte in Ordnung</translation>
    </message>
    <message>
      <source>centring error</source>
      <translation>Rückstellfehler</translation>
    </message>
    <message>
      <source>change arm</source>
      <translation>Arm wechseln</translation>
    </message>
    <message>
      <source>change lead</source>
      <translation>Leitung wechseln</translation>
    </message>
    <message>
      <source>changed</source>
      <translation>geändert</translation>
    </message>
    <message>
      <source>changes a row</source>
      <translation>ändert eine Zeile</translation>
    </message>
    <message>
      <source>channel</source>
      <translation>Kanal</translation>
    </message>
    <message>
      <source>channels</source>
      <translation>Kanäle</translation>
    </message>
    <message>
      <source>charge</source>
      <translation>Ladung</translation>
    </message>
    <message>
      <source>charge current</source>
      <translation>Ladestrom</translation>
    </message>
    <message>
      <source>charge put in</source>
      <translation>eingeladene Ladung</translation>
    </message>
    <message>
      <source>charged at</source>
      <translation>geladen um</translation>
    </message>
    <message>
      <source>charged in the aircraft</source>
      <translation>im Flugzeug geladen</translation>
    </message>
    <message>
      <source>charged on</source>
      <translation>geladen am</translation>
    </message>
    <message>
      <source>charger mode</source>
      <translation>Ladeart</translation>
    </message>
    <message>
      <source>check sum</source>
      <translation>Prüfsumme</translation>
    </message>
    <message>
      <source>checked at</source>
      <translation>geprüft um</translation>
    </message>
    <message>
      <source>checked on</source>
      <translation>geprüft am</translation>
    </message>
    <message>
      <source>chemistry</source>
      <translation>Chemie</translation>
    </message>
    <message>
      <source>chemistry the charger is set to</source>
      <translation>Chemie, auf die das Ladegerät steht</translation>
    </message>
    <message>
      <source>choke</source>
      <translation>Choke</translation>
    </message>
    <message>
      <source>chord at root</source>
      <translation>Tiefe an der Wurzel</translation>
    </message>
    <message>
      <source>chord at tip</source>
      <translation>Tiefe an der Spitze</translation>
    </message>
    <message>
      <source>class</source>
      <translation>Klasse</translation>
    </message>
    <message>
      <source>clean sweep</source>
      <translation>ruckfreier Lauf</translation>
    </message>
    <message>
      <source>clear</source>
      <translation>frei</translation>
    </message>
    <message>
      <source>clevis keeper</source>
      <translation>Gabelkopfsicherung</translation>
    </message>
    <message>
      <source>clip</source>
      <translation>Klemme</translation>
    </message>
    <message>
      <source>closed on</source>
      <translation>geschlossen am</translation>
    </message>
    <message>
      <source>closed {day}</source>
      <translation>geschlossen {day}</translation>
    </message>
    <message>
      <source>closed: {text}</source>
      <translation>geschlossen: {text}</translation>
    </message>
    <message>
      <source>club number</source>
      <translation>Vereinsnummer</translation>
    </message>
    <message>
      <source>code</source>
      <translation>Kürzel</translation>
    </message>
    <message>
      <source>collective</source>
      <translation>kollektiv</translation>
    </message>
    <message>
      <source>comfort</source>
      <translation>Annehmlichkeit</translation>
    </message>
    <message>
      <source>common practice, no source</source>
      <translation>üblich, ohne Quelle</translation>
    </message>
    <message>
      <source>competition class</source>
      <translation>Wettbewerbsklasse</translation>
    </message>
    <message>
      <source>composite</source>
      <translation>Verbundwerkstoff</translation>
    </message>
    <message>
      <source>computed</source>
      <translation>gerechnet</translation>
    </message>
    <message>
      <source>connector</source>
      <translation>Stecker</translation>
    </message>
    <message>
      <source>contacts in parallel</source>
      <translation>Kontakte parallel</translation>
    </message>
    <message>
      <source>continuous current</source>
      <translation>Dauerstrom</translation>
    </message>
    <message>
      <source>cost</source>
      <translation>Kosten</translation>
    </message>
    <message>
      <source>counterweights</source>
      <translation>Gegengewichte</translation>
    </message>
    <message>
      <source>crash</source>
      <translation>Absturz</translation>
    </message>
    <message>
      <source>crashed</source>
      <translation>abgestürzt</translation>
    </message>
    <message>
      <source>crosses hinge</source>
      <translation>quert Scharnier</translation>
    </message>
    <message>
      <source>cruise</source>
      <translation>Reiseflug</translation>
    </message>
    <message>
      <source>current at end A</source>
      <translation>Strom am Ende A</translation>
    </message>
    <message>
      <source>current at end B</source>
      <translation>Strom am Ende B</translation>
    </message>
    <message>
      <source>current at neutral</source>
      <translation>Strom in Neutralstellung</translation>
    </message>
    <message>
      <source>current at worst swashplate corner</source>
      <translation>Strom in der schlimmsten Taumelscheibenecke</translation>
    </message>
    <message>
      <source>current moving</source>
      <translation>Strom in Bewegung</translation>
    </message>
    <message>
      <source>current of both servos at neutral</source>
      <translation>Strom beider Servos in Neutralstellung</translation>
    </message>
    <message>
      <source>current, A</source>
      <translation>Strom, A</translation>
    </message>
    <message>
      <source>cycles</source>
      <translation>Zyklen</translation>
    </message>
    <message>
      <source>cyclic</source>
      <translation>zyklisch</translation>
    </message>
    <message>
      <source>cyclic pulse set</source>
      <translation>Impuls der Taumelscheibe eingestellt</translation>
    </message>
    <message>
      <source>cyclic rate set</source>
      <translation>Rate der Taumelscheibe eingestellt</translation>
    </message>
    <message>
      <source>date such as 2026-04-01; may stay empty</source>
      <translation>Datum wie 2026-04-01; darf leer bleiben</translation>
    </message>
    <message>
      <source>dead band</source>
      <translation>Totband</translation>
    </message>
    <message>
      <source>defaults and limits go by it</source>
      <translation>bestimmt Vorgaben und Grenzen</translation>
    </message>
    <message>
      <source>depth of the wing here</source>
      <translation>Flügeldicke hier</translation>
    </message>
    <message>
      <source>device</source>
      <translation>Gerät</translation>
    </message>
    <message>
      <source>diameter</source>
      <translation>Durchmesser</translation>
    </message>
    <message>
      <source>digital</source>
      <translation>digital</translation>
    </message>
    <message>
      <source>direct</source>
      <translation>direkt</translation>
    </message>
    <message>
      <source>direct current, 20 to 25 °C</source>
      <translation>Gleichstrom, 20 bis 25 °C</translation>
    </message>
    <message>
      <source>direction ok</source>
      <translation>Richtung in Ordnung</translation>
    </message>
    <message>
      <source>discharge current</source>
      <translation>Entladestrom</translation>
    </message>
    <message>
      <source>distance</source>
      <translation>Entfernung</translation>
    </message>
    <message>
      <source>distance behind the balance datum</source>
      <translation>Abstand hinter dem Bezugspunkt</translation>
    </message>
    <message>
      <source>distance to antenna</source>
      <translation>Abstand zur Antenne</translation>
    </message>
    <message>
      <source>distance to heat</source>
      <translation>Abstand zur Hitze</translation>
    </message>
    <message>
      <source>distance to moving parts</source>
      <translation>Abstand zu bewegten Teilen</translation>
    </message>
    <message>
      <source>dive speed</source>
      <translation>Sturzfluggeschwindigkeit</translation>
    </message>
    <message>
      <source>done by</source>
      <translation>gemacht von</translation>
    </message>
    <message>
      <source>done on</source>
      <translation>erledigt am</translation>
    </message>
    <message>
      <source>door</source>
      <translation>Klappe</translation>
    </message>
    <message>
      <source>down</source>
      <translation>ab</translation>
    </message>
    <message>
      <source>drive</source>
      <translation>Antrieb</translation>
    </message>
    <message>
      <source>drop-out</source>
      <translation>Spannungsabfall</translation>
    </message>
    <message>
      <source>dropped</source>
      <translation>fallen gelassen</translation>
    </message>
    <message>
      <source>due on</source>
      <translation>fällig am</translation>
    </message>
    <message>
      <source>due {day}</source>
      <translation>fällig {day}</translation>
    </message>
    <message>
      <source>edge of former hole</source>
      <translation>Kante des Spantlochs</translation>
    </message>
    <message>
      <source>efficiency</source>
      <translation>Wirkungsgrad</translation>
    </message>
    <message>
      <source>electric</source>
      <translation>elektrisch</translation>
    </message>
    <message>
      <source>electric-small</source>
      <translation>kleines Elektromodell</translation>
    </message>
    <message>
      <source>electronic</source>
      <translation>elektronisch</translation>
    </message>
    <message>
      <source>elevator</source>
      <translation>Höhenruder</translation>
    </message>
    <message>
      <source>empty</source>
      <translation>leer</translation>
    </message>
    <message>
      <source>empty mass</source>
      <translation>Leermasse</translation>
    </message>
    <message>
      <source>end of a pack's life</source>
      <translation>Ende der Akkulebensdauer</translation>
    </message>
    <message>
      <source>end shrink length</source>
      <translation>Länge des Endschlauchs</translation>
    </message>
    <message>
      <source>end shrinks</source>
      <translation>Endschläuche</translation>
    </message>
    <message>
      <source>end volts</source>
      <translation>Endspannung</translation>
    </message>
    <message>
      <source>end volts per cell</source>
      <translation>Endspannung je Zelle</translation>
    </message>
    <message>
      <source>ends at the peak, below {end}</source>
      <translation>endet an der Spitze, unter {end}</translation>
    </message>
    <message>
      <source>ends at {end}</source>
      <translation>endet bei {end}</translation>
    </message>
    <message>
      <source>engine control</source>
      <translation>Motorsteuerung</translation>
    </message>
    <message>
      <source>engine stop from the transmitter</source>
      <translation>Motorhalt vom Sender</translation>
    </message>
    <message>
      <source>enough to {speed}</source>
      <translation>genug bis {speed}</translation>
    </message>
    <message>
      <source>expected</source>
      <translation>erwartet</translation>
    </message>
    <message>
      <source>expected life</source>
      <translation>erwartete Lebensdauer</translation>
    </message>
    <message>
      <source>expo</source>
      <translation>Expo</translation>
    </message>
    <message>
      <source>exposed run</source>
      <translation>freier Weg</translation>
    </message>
    <message>
      <source>extension</source>
      <translation>Verlängerung</translation>
    </message>
    <message>
      <source>extinguisher confirmed</source>
      <translation>Feuerlöscher bestätigt</translation>
    </message>
    <message>
      <source>failsafe</source>
      <translation>Failsafe</translation>
    </message>
    <message>
      <source>failsafe kind</source>
      <translation>Failsafe-Art</translation>
    </message>
    <message>
      <source>failsafe position</source>
      <translation>Failsafe-Stellung</translation>
    </message>
    <message>
      <source>failsafe proof</source>
      <translation>Failsafe-Prüfung</translation>
    </message>
    <message>
      <source>failsafe proved on</source>
      <translation>Failsafe geprüft am</translation>
    </message>
    <message>
      <source>feed</source>
      <translation>Strompfad</translation>
    </message>
    <message>
      <source>ferrules</source>
      <translation>Hülsen</translation>
    </message>
    <message>
      <source>figure</source>
      <translation>Zahlenwert</translation>
    </message>
    <message>
      <source>findings</source>
      <translation>Befunde</translation>
    </message>
    <message>
      <source>fit</source>
      <translation>tauglich</translation>
    </message>
    <message>
      <source>fit for</source>
      <translation>geeignet für</translation>
    </message>
    <message>
      <source>fit pack</source>
      <translation>Akku einbauen</translation>
    </message>
    <message>
      <source>fit regulator</source>
      <translation>Regler einbauen</translation>
    </message>
    <message>
      <source>fit servo</source>
      <translation>Servo einbauen</translation>
    </message>
    <message>
      <source>fit switch</source>
      <translation>Schalter einbauen</translation>
    </message>
    <message>
      <source>fitted</source>
      <translation>eingebaut</translation>
    </message>
    <message>
      <source>fitted nowhere</source>
      <translation>nirgends eingebaut</translation>
    </message>
    <message>
      <source>fitted on</source>
      <translation>eingebaut am</translation>
    </message>
    <message>
      <source>fitting</source>
      <translation>im Einbau</translation>
    </message>
    <message>
      <source>fixed part and surface together</source>
      <translation>feste Fläche und Ruder zusammen</translation>
    </message>
    <message>
      <source>flap</source>
      <translation>Wölbklappe</translation>
    </message>
    <message>
      <source>fleet</source>
      <translation>Flotte</translation>
    </message>
    <message>
      <source>flight</source>
      <translation>Flug</translation>
    </message>
    <message>
      <source>flight of the day</source>
      <translation>Flug des Tages</translation>
    </message>
    <message>
      <source>flight {number}: {facts}</source>
      <translation>Flug {number}: {facts}</translation>
    </message>
    <message>
      <source>flights</source>
      <translation>Flüge</translation>
    </message>
    <message>
      <source>flights per charge</source>
      <translation>Flüge je Ladung</translation>
    </message>
    <message>
      <source>flights since blades</source>
      <translation>Flüge seit Blättern</translation>
    </message>
    <message>
      <source>flights since dampers</source>
      <translation>Flüge seit Dämpfern</translation>
    </message>
    <message>
      <source>flights since spindle check</source>
      <translation>Flüge seit Wellenprüfung</translation>
    </message>
    <message>
      <source>flown in</source>
      <translation>eingeflogen</translation>
    </message>
    <message>
      <source>flown on</source>
      <translation>geflogen am</translation>
    </message>
    <message>
      <source>flybar</source>
      <translation>Paddelstange</translation>
    </message>
    <message>
      <source>flying field</source>
      <translation>Flugplatz</translation>
    </message>
    <message>
      <source>for sale</source>
      <translation>zu verkaufen</translation>
    </message>
    <message>
      <source>former clearance</source>
      <translation>Spantabstand</translation>
    </message>
    <message>
      <source>frame period</source>
      <translation>Rahmenzeit</translation>
    </message>
    <message>
      <source>free play at the arm</source>
      <translation>Spiel am Arm</translation>
    </message>
    <message>
      <source>free play measured</source>
      <translation>Spiel gemessen</translation>
    </message>
    <message>
      <source>free play measured on</source>
      <translation>Spiel gemessen am</translation>
    </message>
    <message>
      <source>free play {value}</source>
      <translation>Spiel {value}</translation>
    </message>
    <message>
      <source>from {start} to {end}</source>
      <translation>von {start} nach {end}</translation>
    </message>
    <message>
      <source>function</source>
      <translation>Funktion</translation>
    </message>
    <message>
      <source>functions it is marked fit for, comma between</source>
      <translation>Funktionen, für die es gekennzeichnet ist, mit Komma</translation>
    </message>
    <message>
      <source>gain</source>
      <translation>Empfindlichkeit</translation>
    </message>
    <message>
      <source>gap sealed</source>
      <translation>Spalt abgedichtet</translation>
    </message>
    <message>
      <source>gate check</source>
      <translation>Prüfung der Nachweise</translation>
    </message>
    <message>
      <source>gauge</source>
      <translation>Stärke</translation>
    </message>
    <message>
      <source>gauge not known</source>
      <translation>Stärke nicht bekannt</translation>
    </message>
    <message>
      <source>gear</source>
      <translation>Getriebe</translation>
    </message>
    <message>
      <source>gear condition</source>
      <translation>Zustand des Getriebes</translation>
    </message>
    <message>
      <source>gears {word}</source>
      <translation>Getriebe {word}</translation>
    </message>
    <message>
      <source>giant</source>
      <translation>Großmodell</translation>
    </message>
    <message>
      <source>glass</source>
      <translation>Glasfaser</translation>
    </message>
    <message>
      <source>glow</source>
      <translation>Glühzünder</translation>
    </message>
    <message>
      <source>gone:</source>
      <translation>weg:</translation>
    </message>
    <message>
      <source>gone: {line}</source>
      <translation>weg: {line}</translation>
    </message>
    <message>
      <source>good</source>
      <translation>gut</translation>
    </message>
    <message>
      <source>greatest charge rate</source>
      <translation>größter Ladestrom</translation>
    </message>
    <message>
      <source>greatest frame rate</source>
      <translation>größte Rahmenrate</translation>
    </message>
    <message>
      <source>greatest pitch</source>
      <translation>größter Anstellwinkel</translation>
    </message>
    <message>
      <source>greatest speed the loads are worked for</source>
      <translation>größte Geschwindigkeit, für die die Lasten gerechnet werden</translation>
    </message>
    <message>
      <source>grommet</source>
      <translation>Gummitülle</translation>
    </message>
    <message>
      <source>grommets fitted</source>
      <translation>Gummitüllen eingebaut</translation>
    </message>
    <message>
      <source>grommets fitted on</source>
      <translation>Gummitüllen eingebaut am</translation>
    </message>
    <message>
      <source>grommets there should be</source>
      <translation>Tüllen im Soll</translation>
    </message>
    <message>
      <source>grounds it</source>
      <translation>hält am Boden</translation>
    </message>
    <message>
      <source>gyro</source>
      <translation>Kreisel</translation>
    </message>
    <message>
      <source>hard landing</source>
      <translation>harte Landung</translation>
    </message>
    <message>
      <source>heat</source>
      <translation>Hitze</translation>
    </message>
    <message>
      <source>heat it can shed in still air</source>
      <translation>Wärme, die es in ruhender Luft abgibt</translation>
    </message>
    <message>
      <source>heat sleeve</source>
      <translation>Hitzeschutzhülle</translation>
    </message>
    <message>
      <source>height</source>
      <translation>Höhe</translation>
    </message>
    <message>
      <source>held</source>
      <translation>angehalten</translation>
    </message>
    <message>
      <source>heli-el</source>
      <translation>Elektrohubschrauber</translation>
    </message>
    <message>
      <source>heli-ic</source>
      <translation>Kolbenmotorhubschrauber</translation>
    </message>
    <message>
      <source>heli-turbine</source>
      <translation>Turbinenhubschrauber</translation>
    </message>
    <message>
      <source>hidden</source>
      <translation>ausgeblendet</translation>
    </message>
    <message>
      <source>high rate</source>
      <translation>große Ausschläge</translation>
    </message>
    <message>
      <source>highest input volts</source>
      <translation>höchste Eingangsspannung</translation>
    </message>
    <message>
      <source>highest output volts</source>
      <translation>höchste Ausgangsspannung</translation>
    </message>
    <message>
      <source>highest volts</source>
      <translation>höchste Spannung</translation>
    </message>
    <message>
      <source>highest volts mean</source>
      <translation>höchste Spannung bedeutet</translation>
    </message>
    <message>
      <source>hinge</source>
      <translation>Scharnier</translation>
    </message>
    <message>
      <source>hinged</source>
      <translation>angelenkt</translation>
    </message>
    <message>
      <source>hold</source>
      <translation>halten</translation>
    </message>
    <message>
      <source>hole radii</source>
      <translation>Lochradien</translation>
    </message>
    <message>
      <source>horn radius</source>
      <translation>Ruderhornradius</translation>
    </message>
    <message>
      <source>hours of work</source>
      <translation>Arbeitsstunden</translation>
    </message>
    <message>
      <source>hours run</source>
      <translation>Betriebsstunden</translation>
    </message>
    <message>
      <source>idle</source>
      <translation>Ruhe</translation>
    </message>
    <message>
      <source>idle current</source>
      <translation>Ruhestrom</translation>
    </message>
    <message>
      <source>idle current measured</source>
      <translation>Ruhestrom gemessen</translation>
    </message>
    <message>
      <source>ignition</source>
      <translation>Zündung</translation>
    </message>
    <message>
      <source>ignition kill switch</source>
      <translation>Zündungsschalter</translation>
    </message>
    <message>
      <source>in</source>
      <translation>ein</translation>
    </message>
    <message>
      <source>in any state</source>
      <translation>in jedem Zustand</translation>
    </message>
    <message>
      <source>in real time</source>
      <translation>in Echtzeit</translation>
    </message>
    <message>
      <source>in the bay</source>
      <translation>im Teilelager</translation>
    </message>
    <message>
      <source>in use</source>
      <translation>in Gebrauch</translation>
    </message>
    <message>
      <source>in {count} days</source>
      <translation>in {count} Tagen</translation>
    </message>
    <message>
      <source>in {place} since {day}</source>
      <translation>in {place} seit {day}</translation>
    </message>
    <message>
      <source>inputs</source>
      <translation>Eingänge</translation>
    </message>
    <message>
      <source>inputs isolated</source>
      <translation>Eingänge getrennt</translation>
    </message>
    <message>
      <source>inside bay</source>
      <translation>im Schacht</translation>
    </message>
    <message>
      <source>inspected on</source>
      <translation>durchgesehen am</translation>
    </message>
    <message>
      <source>inspection</source>
      <translation>Durchsicht</translation>
    </message>
    <message>
      <source>intake</source>
      <translation>Eingang</translation>
    </message>
    <message>
      <source>interval</source>
      <translation>nach Frist</translation>
    </message>
    <message>
      <source>isolated from the other paths</source>
      <translation>von den anderen Pfaden getrennt</translation>
    </message>
    <message>
      <source>it could not be judged</source>
      <translation>es war nicht zu beurteilen</translation>
    </message>
    <message>
      <source>jet-edf</source>
      <translation>Impellerjet</translation>
    </message>
    <message>
      <source>jet-turbine</source>
      <translation>Turbinenjet</translation>
    </message>
    <message>
      <source>jitter</source>
      <translation>Zittern</translation>
    </message>
    <message>
      <source>jitter or dead spot</source>
      <translation>Zittern oder tote Stelle</translation>
    </message>
    <message>
      <source>kgf·cm, mm, g</source>
      <translation>kgf·cm, mm, g</translation>
    </message>
    <message>
      <source>kind</source>
      <translation>Art</translation>
    </message>
    <message>
      <source>kind of file</source>
      <translation>Art der Datei</translation>
    </message>
    <message>
      <source>laid up</source>
      <translation>stillgelegt</translation>
    </message>
    <message>
      <source>landings</source>
      <translation>Landungen</translation>
    </message>
    <message>
      <source>last charged {day}</source>
      <translation>zuletzt geladen {day}</translation>
    </message>
    <message>
      <source>last refit or repair</source>
      <translation>letzter Umbau oder Reparatur</translation>
    </message>
    <message>
      <source>last year made</source>
      <translation>letztes Baujahr</translation>
    </message>
    <message>
      <source>lead</source>
      <translation>Leitung</translation>
    </message>
    <message>
      <source>lead gauge</source>
      <translation>Leitungsstärke</translation>
    </message>
    <message>
      <source>lead length</source>
      <translation>Leitungslänge</translation>
    </message>
    <message>
      <source>lead, pack to bus</source>
      <translation>Leitung, Akku zum Bus</translation>
    </message>
    <message>
      <source>lead, {gauge}</source>
      <translation>Leitung, {gauge}</translation>
    </message>
    <message>
      <source>leads side by side</source>
      <translation>Leitungen nebeneinander</translation>
    </message>
    <message>
      <source>leads stay</source>
      <translation>Leitungen bleiben</translation>
    </message>
    <message>
      <source>left</source>
      <translation>links</translation>
    </message>
    <message>
      <source>left out: {why}</source>
      <translation>ausgelassen: {why}</translation>
    </message>
    <message>
      <source>length</source>
      <translation>Länge</translation>
    </message>
    <message>
      <source>length, tail and extensions</source>
      <translation>Länge, Anschluss und Verlängerungen</translation>
    </message>
    <message>
      <source>level speed</source>
      <translation>Geschwindigkeit im Horizontalflug</translation>
    </message>
    <message>
      <source>life in cycles</source>
      <translation>Lebensdauer in Zyklen</translation>
    </message>
    <message>
      <source>life in years</source>
      <translation>Lebensdauer in Jahren</translation>
    </message>
    <message>
      <source>lights</source>
      <translation>Lichter</translation>
    </message>
    <message>
      <source>limit set</source>
      <translation>festgelegte Grenze</translation>
    </message>
    <message>
      <source>limit {value}</source>
      <translation>Grenze {value}</translation>
    </message>
    <message>
      <source>limits it</source>
      <translation>begrenzt ihn</translation>
    </message>
    <message>
      <source>linear</source>
      <translation>linear</translation>
    </message>
    <message>
      <source>linkage</source>
      <translation>Anlenkung</translation>
    </message>
    <message>
      <source>load</source>
      <translation>Last</translation>
    </message>
    <message>
      <source>load test</source>
      <translation>Lastprüfung</translation>
    </message>
    <message>
      <source>loaded</source>
      <translation>belastet</translation>
    </message>
    <message>
      <source>lock of the loosest joint</source>
      <translation>Halt des losesten Gelenks</translation>
    </message>
    <message>
      <source>longest free length</source>
      <translation>längste freie Länge</translation>
    </message>
    <message>
      <source>longest unflown first</source>
      <translation>am längsten nicht geflogen zuerst</translation>
    </message>
    <message>
      <source>low rate</source>
      <translation>kleine Ausschläge</translation>
    </message>
    <message>
      <source>lower limit of {what}, {volts}</source>
      <translation>untere Grenze von {what}, {volts}</translation>
    </message>
    <message>
      <source>lowest bus volts by telemetry</source>
      <translation>tiefste Busspannung laut Telemetrie</translation>
    </message>
    <message>
      <source>lowest input volts</source>
      <translation>niedrigste Eingangsspannung</translation>
    </message>
    <message>
      <source>lowest output volts</source>
      <translation>niedrigste Ausgangsspannung</translation>
    </message>
    <message>
      <source>lowest volts</source>
      <translation>niedrigste Spannung</translation>
    </message>
    <message>
      <source>lowest {volts}</source>
      <translation>tiefste {volts}</translation>
    </message>
    <message>
      <source>made or bought</source>
      <translation>gebaut oder gekauft</translation>
    </message>
    <message>
      <source>magnet</source>
      <translation>Magnet</translation>
    </message>
    <message>
      <source>main</source>
      <translation>Hauptrotor</translation>
    </message>
    <message>
      <source>maker</source>
      <translation>Hersteller</translation>
    </message>
    <message>
      <source>maker serial</source>
      <translation>Seriennummer des Herstellers</translation>
    </message>
    <message>
      <source>margin</source>
      <translation>Reserve</translation>
    </message>
    <message>
      <source>mark shown</source>
      <translation>Zeichen angebracht</translation>
    </message>
    <message>
      <source>mass</source>
      <translation>Masse</translation>
    </message>
    <message>
      <source>mass balanced</source>
      <translation>massenausgeglichen</translation>
    </message>
    <message>
      <source>mass limit</source>
      <translation>Massengrenze</translation>
    </message>
    <message>
      <source>mass measured on</source>
      <translation>Masse gemessen am</translation>
    </message>
    <message>
      <source>matched with its partner</source>
      <translation>mit dem Partner abgeglichen</translation>
    </message>
    <message>
      <source>material</source>
      <translation>Werkstoff</translation>
    </message>
    <message>
      <source>may stay empty</source>
      <translation>darf leer bleiben</translation>
    </message>
    <message>
      <source>mean chord</source>
      <translation>mittlere Tiefe</translation>
    </message>
    <message>
      <source>measured</source>
      <translation>gemessen</translation>
    </message>
    <message>
      <source>measured on this aircraft or part</source>
      <translation>an diesem Flugzeug oder Teil gemessen</translation>
    </message>
    <message>
      <source>measured, transmitter off</source>
      <translation>gemessen, Sender aus</translation>
    </message>
    <message>
      <source>mechanical</source>
      <translation>mechanisch</translation>
    </message>
    <message>
      <source>mechanical stop</source>
      <translation>mechanischer Anschlag</translation>
    </message>
    <message>
      <source>mechanical stop met at</source>
      <translation>mechanischer Anschlag erreicht bei</translation>
    </message>
    <message>
      <source>metal</source>
      <translation>Metall</translation>
    </message>
    <message>
      <source>metal propeller or blades</source>
      <translation>Metallpropeller oder -blätter</translation>
    </message>
    <message>
      <source>method</source>
      <translation>Verfahren</translation>
    </message>
    <message>
      <source>middle</source>
      <translation>Mitte</translation>
    </message>
    <message>
      <source>millimetres, comma between</source>
      <translation>Millimeter, mit Komma</translation>
    </message>
    <message>
      <source>minimum wanted</source>
      <translation>Mindestbestand</translation>
    </message>
    <message>
      <source>minutes</source>
      <translation>Minuten</translation>
    </message>
    <message>
      <source>mixed</source>
      <translation>gemischt</translation>
    </message>
    <message>
      <source>mixed with</source>
      <translation>gemischt mit</translation>
    </message>
    <message>
      <source>mode</source>
      <translation>Flugphase</translation>
    </message>
    <message>
      <source>money</source>
      <translation>Geld</translation>
    </message>
    <message>
      <source>motor on</source>
      <translation>Motor an</translation>
    </message>
    <message>
      <source>name</source>
      <translation>Name</translation>
    </message>
    <message>
      <source>names the same record as row {number}; each may be named once</source>
      <translation>nennt denselben Eintrag wie Zeile {number}; jeder darf einmal genannt werden</translation>
    </message>
    <message>
      <source>near leads</source>
      <translation>nahe Leitungen</translation>
    </message>
    <message>
      <source>needed</source>
      <translation>nötig</translation>
    </message>
    <message>
      <source>neutral</source>
      <translation>neutral</translation>
    </message>
    <message>
      <source>never</source>
      <translation>nie</translation>
    </message>
    <message>
      <source>new</source>
      <translation>neu</translation>
    </message>
    <message>
      <source>new:</source>
      <translation>neu:</translation>
    </message>
    <message>
      <source>new: {line}</source>
      <translation>neu: {line}</translation>
    </message>
    <message>
      <source>next due first</source>
      <translation>nächste Fälligkeit zuerst</translation>
    </message>
    <message>
      <source>next due on</source>
      <translation>nächstens fällig am</translation>
    </message>
    <message>
      <source>next due {day}</source>
      <translation>nächstens fällig {day}</translation>
    </message>
    <message>
      <source>next month</source>
      <translation>nächsten Monat</translation>
    </message>
    <message>
      <source>no</source>
      <translation>nein</translation>
    </message>
    <message>
      <source>no ballast needed</source>
      <translation>kein Ballast nötig</translation>
    </message>
    <message>
      <source>no fuel, no flight pack</source>
      <translation>ohne Treibstoff, ohne Flugakku</translation>
    </message>
    <message>
      <source>no hole</source>
      <translation>kein Loch</translation>
    </message>
    <message>
      <source>no limit</source>
      <translation>keine Grenze</translation>
    </message>
    <message>
      <source>no need</source>
      <translation>kein Bedarf</translation>
    </message>
    <message>
      <source>no pack</source>
      <translation>kein Akku</translation>
    </message>
    <message>
      <source>no reason written</source>
      <translation>kein Grund geschrieben</translation>
    </message>
    <message>
      <source>no servo</source>
      <translation>kein Servo</translation>
    </message>
    <message>
      <source>no wish</source>
      <translation>kein Wunsch</translation>
    </message>
    <message>
      <source>nominal</source>
      <translation>nominal</translation>
    </message>
    <message>
      <source>none</source>
      <translation>keine</translation>
    </message>
    <message>
      <source>none fitted</source>
      <translation>keine eingebaut</translation>
    </message>
    <message>
      <source>none on record</source>
      <translation>keine eingetragen</translation>
    </message>
    <message>
      <source>none, buy it</source>
      <translation>keines, kaufen</translation>
    </message>
    <message>
      <source>nose balance</source>
      <translation>Nasenausgleich</translation>
    </message>
    <message>
      <source>not finished</source>
      <translation>nicht fertig</translation>
    </message>
    <message>
      <source>not known</source>
      <translation>nicht bekannt</translation>
    </message>
    <message>
      <source>not known: {what}</source>
      <translation>nicht bekannt: {what}</translation>
    </message>
    <message>
      <source>not looked at: {count} of {all}</source>
      <translation>nicht angesehen: {count} von {all}</translation>
    </message>
    <message>
      <source>not measured yet</source>
      <translation>noch nicht gemessen</translation>
    </message>
    <message>
      <source>not ok: {items}</source>
      <translation>nicht in Ordnung: {items}</translation>
    </message>
    <message>
      <source>not recorded</source>
      <translation>nicht eingetragen</translation>
    </message>
    <message>
      <source>not stated</source>
      <translation>nicht angegeben</translation>
    </message>
    <message>
      <source>not swollen, not crashed</source>
      <translation>nicht gebläht, nicht abgestürzt</translation>
    </message>
    <message>
      <source>not yet</source>
      <translation>noch nicht</translation>
    </message>
    <message>
      <source>note</source>
      <translation>Notiz</translation>
    </message>
    <message>
      <source>notes</source>
      <translation>Notizen</translation>
    </message>
    <message>
      <source>nothing</source>
      <translation>nichts</translation>
    </message>
    <message>
      <source>nothing found</source>
      <translation>nichts gefunden</translation>
    </message>
    <message>
      <source>nowhere</source>
      <translation>nirgends</translation>
    </message>
    <message>
      <source>number</source>
      <translation>Nummer</translation>
    </message>
    <message>
      <source>number of antennas</source>
      <translation>Zahl der Antennen</translation>
    </message>
    <message>
      <source>number of wings</source>
      <translation>Zahl der Flügel</translation>
    </message>
    <message>
      <source>nylon</source>
      <translation>Nylon</translation>
    </message>
    <message>
      <source>off</source>
      <translation>aus</translation>
    </message>
    <message>
      <source>off centre</source>
      <translation>außer Mitte</translation>
    </message>
    <message>
      <source>oily place</source>
      <translation>ölige Stelle</translation>
    </message>
    <message>
      <source>old</source>
      <translation>alt</translation>
    </message>
    <message>
      <source>on a Y lead</source>
      <translation>an einer Y-Leitung</translation>
    </message>
    <message>
      <source>on hand</source>
      <translation>vorhanden</translation>
    </message>
    <message>
      <source>on the bench</source>
      <translation>auf der Werkbank</translation>
    </message>
    <message>
      <source>on the line</source>
      <translation>in der Startreihe</translation>
    </message>
    <message>
      <source>one in carbon</source>
      <translation>einer in Kohlefaser</translation>
    </message>
    <message>
      <source>one path lost</source>
      <translation>ein Pfad ausgefallen</translation>
    </message>
    <message>
      <source>open</source>
      <translation>offen</translation>
    </message>
    <message>
      <source>or
extend</source>
      <translation>oder
verlängern</translation>
    </message>
    <message>
      <source>other</source>
      <translation>anderes</translation>
    </message>
    <message>
      <source>other minutes</source>
      <translation>andere Minuten</translation>
    </message>
    <message>
      <source>our printed number</source>
      <translation>unsere gedruckte Nummer</translation>
    </message>
    <message>
      <source>output bearing</source>
      <translation>Abtriebslager</translation>
    </message>
    <message>
      <source>output port</source>
      <translation>Ausgangsanschluss</translation>
    </message>
    <message>
      <source>output pulse centre</source>
      <translation>Impulsmitte des Ausgangs</translation>
    </message>
    <message>
      <source>output rate</source>
      <translation>Ausgangsrate</translation>
    </message>
    <message>
      <source>outside</source>
      <translation>außerhalb</translation>
    </message>
    <message>
      <source>outside it</source>
      <translation>außerhalb</translation>
    </message>
    <message>
      <source>ozf·in, in, oz</source>
      <translation>ozf·in, in, oz</translation>
    </message>
    <message>
      <source>pack</source>
      <translation>Akku</translation>
    </message>
    <message>
      <source>pack in place</source>
      <translation>Akku am Platz</translation>
    </message>
    <message>
      <source>pack type</source>
      <translation>Akkutyp</translation>
    </message>
    <message>
      <source>pack {tag}</source>
      <translation>Akku {tag}</translation>
    </message>
    <message>
      <source>packs joined</source>
      <translation>Akkus verbunden</translation>
    </message>
    <message>
      <source>packs used</source>
      <translation>benutzte Akkus</translation>
    </message>
    <message>
      <source>page </source>
      <translation>Seite </translation>
    </message>
    <message>
      <source>paper</source>
      <translation>Papier</translation>
    </message>
    <message>
      <source>part</source>
      <translation>Teil</translation>
    </message>
    <message>
      <source>parts in</source>
      <translation>Teile da</translation>
    </message>
    <message>
      <source>pass-through</source>
      <translation>durchgeführt</translation>
    </message>
    <message>
      <source>passed</source>
      <translation>bestanden</translation>
    </message>
    <message>
      <source>passed on</source>
      <translation>weitergegeben</translation>
    </message>
    <message>
      <source>passes input volts when it fails</source>
      <translation>lässt im Fehlerfall die Eingangsspannung durch</translation>
    </message>
    <message>
      <source>path</source>
      <translation>Pfad</translation>
    </message>
    <message>
      <source>peak</source>
      <translation>Spitze</translation>
    </message>
    <message>
      <source>peak, aged pack</source>
      <translation>Spitze, gealterter Akku</translation>
    </message>
    <message>
      <source>peak, cold pack</source>
      <translation>Spitze, kalter Akku</translation>
    </message>
    <message>
      <source>petrol</source>
      <translation>Benzin</translation>
    </message>
    <message>
      <source>photo</source>
      <translation>Foto</translation>
    </message>
    <message>
      <source>picture</source>
      <translation>Bild</translation>
    </message>
    <message>
      <source>pilot</source>
      <translation>Pilot</translation>
    </message>
    <message>
      <source>pin</source>
      <translation>Stift</translation>
    </message>
    <message>
      <source>pivot of an all-moving surface</source>
      <translation>Drehpunkt eines Pendelruders</translation>
    </message>
    <message>
      <source>place</source>
      <translation>Ort</translation>
    </message>
    <message>
      <source>place disputed</source>
      <translation>Ort strittig</translation>
    </message>
    <message>
      <source>plain</source>
      <translation>gleitgelagert</translation>
    </message>
    <message>
      <source>plain Y</source>
      <translation>einfache Y-Leitung</translation>
    </message>
    <message>
      <source>plan</source>
      <translation>Plan</translation>
    </message>
    <message>
      <source>plan line</source>
      <translation>Planzeile</translation>
    </message>
    <message>
      <source>planned flight</source>
      <translation>geplanter Flug</translation>
    </message>
    <message>
      <source>play</source>
      <translation>Spiel</translation>
    </message>
    <message>
      <source>plug current limit</source>
      <translation>Stromgrenze des Steckers</translation>
    </message>
    <message>
      <source>plugged joints</source>
      <translation>Steckstellen</translation>
    </message>
    <message>
      <source>position</source>
      <translation>Position</translation>
    </message>
    <message>
      <source>power</source>
      <translation>Energie</translation>
    </message>
    <message>
      <source>power path</source>
      <translation>Strompfad</translation>
    </message>
    <message>
      <source>power plant</source>
      <translation>Antrieb</translation>
    </message>
    <message>
      <source>pre-season</source>
      <translation>vor der Saison</translation>
    </message>
    <message>
      <source>prediction</source>
      <translation>Vorhersage</translation>
    </message>
    <message>
      <source>preset</source>
      <translation>voreingestellt</translation>
    </message>
    <message>
      <source>price</source>
      <translation>Preis</translation>
    </message>
    <message>
      <source>priced</source>
      <translation>bepreist</translation>
    </message>
    <message>
      <source>proof</source>
      <translation>Nachweis</translation>
    </message>
    <message>
      <source>propeller</source>
      <translation>Propeller</translation>
    </message>
    <message>
      <source>pull-pull</source>
      <translation>Seilanlenkung</translation>
    </message>
    <message>
      <source>pulse centre</source>
      <translation>Impulsmitte</translation>
    </message>
    <message>
      <source>purpose</source>
      <translation>Zweck</translation>
    </message>
    <message>
      <source>pushrod</source>
      <translation>Gestänge</translation>
    </message>
    <message>
      <source>put back</source>
      <translation>zurückgeladen</translation>
    </message>
    <message>
      <source>put back after</source>
      <translation>danach zurückgeladen</translation>
    </message>
    <message>
      <source>quantity</source>
      <translation>Menge</translation>
    </message>
    <message>
      <source>quarantine</source>
      <translation>Quarantäne</translation>
    </message>
    <message>
      <source>radio</source>
      <translation>Funk</translation>
    </message>
    <message>
      <source>raised ({severity}): {text}</source>
      <translation>gemeldet ({severity}): {text}</translation>
    </message>
    <message>
      <source>raised on</source>
      <translation>gemeldet am</translation>
    </message>
    <message>
      <source>range check</source>
      <translation>Reichweitenprüfung</translation>
    </message>
    <message>
      <source>rated</source>
      <translation>Nennwert</translation>
    </message>
    <message>
      <source>rated capacity</source>
      <translation>Nennkapazität</translation>
    </message>
    <message>
      <source>read on</source>
      <translation>gelesen am</translation>
    </message>
    <message>
      <source>reason</source>
      <translation>Grund</translation>
    </message>
    <message>
      <source>reason for the state</source>
      <translation>Grund des Standes</translation>
    </message>
    <message>
      <source>receiver</source>
      <translation>Empfänger</translation>
    </message>
    <message>
      <source>receiver plug included</source>
      <translation>mit Empfängerstecker</translation>
    </message>
    <message>
      <source>receiver {code}</source>
      <translation>Empfänger {code}</translation>
    </message>
    <message>
      <source>refit plan</source>
      <translation>Umbauplan</translation>
    </message>
    <message>
      <source>refreshing cycle</source>
      <translation>Auffrischzyklus</translation>
    </message>
    <message>
      <source>registration</source>
      <translation>Registrierung</translation>
    </message>
    <message>
      <source>registration mark</source>
      <translation>Kennzeichen</translation>
    </message>
    <message>
      <source>regulator</source>
      <translation>Regler</translation>
    </message>
    <message>
      <source>regulator type</source>
      <translation>Reglertyp</translation>
    </message>
    <message>
      <source>remarks</source>
      <translation>Bemerkungen</translation>
    </message>
    <message>
      <source>removed</source>
      <translation>entfernt</translation>
    </message>
    <message>
      <source>reserved</source>
      <translation>vorgemerkt</translation>
    </message>
    <message>
      <source>resistance measured at</source>
      <translation>Widerstand gemessen bei</translation>
    </message>
    <message>
      <source>resistance measured on</source>
      <translation>Widerstand gemessen am</translation>
    </message>
    <message>
      <source>resistance measured, per cell</source>
      <translation>Widerstand gemessen, je Zelle</translation>
    </message>
    <message>
      <source>resistance new, per cell</source>
      <translation>Widerstand neu, je Zelle</translation>
    </message>
    <message>
      <source>resistance per cell</source>
      <translation>Widerstand je Zelle</translation>
    </message>
    <message>
      <source>resistance when on</source>
      <translation>Durchgangswiderstand</translation>
    </message>
    <message>
      <source>resting volts</source>
      <translation>Ruhespannung</translation>
    </message>
    <message>
      <source>resting volts read on</source>
      <translation>Ruhespannung gelesen am</translation>
    </message>
    <message>
      <source>retire at {share} % of the first three</source>
      <translation>aussondern bei {share} % der ersten drei</translation>
    </message>
    <message>
      <source>retire at {share} % of the label</source>
      <translation>aussondern bei {share} % der Aufschrift</translation>
    </message>
    <message>
      <source>retired</source>
      <translation>ausgesondert</translation>
    </message>
    <message>
      <source>retract</source>
      <translation>Einziehfahrwerk</translation>
    </message>
    <message>
      <source>reverse</source>
      <translation>umgekehrt</translation>
    </message>
    <message>
      <source>right</source>
      <translation>rechts</translation>
    </message>
    <message>
      <source>rod diameter</source>
      <translation>Gestängedurchmesser</translation>
    </message>
    <message>
      <source>rod drawn shortened</source>
      <translation>Gestänge verkürzt gezeichnet</translation>
    </message>
    <message>
      <source>rod length</source>
      <translation>Gestängelänge</translation>
    </message>
    <message>
      <source>rod material</source>
      <translation>Gestängewerkstoff</translation>
    </message>
    <message>
      <source>rod to horn {angle}</source>
      <translation>Gestänge zu Ruderhorn {angle}</translation>
    </message>
    <message>
      <source>role</source>
      <translation>Aufgabe</translation>
    </message>
    <message>
      <source>rotor</source>
      <translation>Rotor</translation>
    </message>
    <message>
      <source>rotor speed</source>
      <translation>Rotordrehzahl</translation>
    </message>
    <message>
      <source>rough</source>
      <translation>rau</translation>
    </message>
    <message>
      <source>rudder</source>
      <translation>Seitenruder</translation>
    </message>
    <message>
      <source>rule</source>
      <translation>Regel</translation>
    </message>
    <message>
      <source>running current, no load</source>
      <translation>Laufstrom ohne Last</translation>
    </message>
    <message>
      <source>safety</source>
      <translation>Sicherheit</translation>
    </message>
    <message>
      <source>said to be fitted, but it is recorded elsewhere too</source>
      <translation>soll eingebaut sein, ist aber auch anderswo eingetragen</translation>
    </message>
    <message>
      <source>sail-fast</source>
      <translation>schneller Segler</translation>
    </message>
    <message>
      <source>sail-scale</source>
      <translation>vorbildgetreuer Segler</translation>
    </message>
    <message>
      <source>sail-thermal</source>
      <translation>Thermiksegler</translation>
    </message>
    <message>
      <source>scale</source>
      <translation>vorbildgetreu</translation>
    </message>
    <message>
      <source>scrapped</source>
      <translation>verschrottet</translation>
    </message>
    <message>
      <source>screw centres, across</source>
      <translation>Schraubenabstand, quer</translation>
    </message>
    <message>
      <source>screw centres, along</source>
      <translation>Schraubenabstand, längs</translation>
    </message>
    <message>
      <source>screws fitted</source>
      <translation>Schrauben eingebaut</translation>
    </message>
    <message>
      <source>screws there should be</source>
      <translation>Schrauben im Soll</translation>
    </message>
    <message>
      <source>serial</source>
      <translation>Seriennummer</translation>
    </message>
    <message>
      <source>series</source>
      <translation>Reihe</translation>
    </message>
    <message>
      <source>servo</source>
      <translation>Servo</translation>
    </message>
    <message>
      <source>servo arm radius</source>
      <translation>Servoarmradius</translation>
    </message>
    <message>
      <source>servo bay height</source>
      <translation>Höhe des Servoschachts</translation>
    </message>
    <message>
      <source>servo bay length</source>
      <translation>Länge des Servoschachts</translation>
    </message>
    <message>
      <source>servo bay screw centres</source>
      <translation>Schraubenabstand des Servoschachts</translation>
    </message>
    <message>
      <source>servo bay width</source>
      <translation>Breite des Servoschachts</translation>
    </message>
    <message>
      <source>servo in place</source>
      <translation>eingebautes Servo</translation>
    </message>
    <message>
      <source>servo rating</source>
      <translation>Servonenndaten</translation>
    </message>
    <message>
      <source>servo travel each way</source>
      <translation>Servoweg je Seite</translation>
    </message>
    <message>
      <source>servo travel, °</source>
      <translation>Servoweg, °</translation>
    </message>
    <message>
      <source>servo type</source>
      <translation>Servotyp</translation>
    </message>
    <message>
      <source>servo {code}</source>
      <translation>Servo {code}</translation>
    </message>
    <message>
      <source>servo {tag}</source>
      <translation>Servo {tag}</translation>
    </message>
    <message>
      <source>set in Workshop Rules</source>
      <translation>in den Werkstattregeln gesetzt</translation>
    </message>
    <message>
      <source>set regulator</source>
      <translation>Regler einstellen</translation>
    </message>
    <message>
      <source>set volts</source>
      <translation>eingestellte Spannung</translation>
    </message>
    <message>
      <source>setting</source>
      <translation>Einstellung</translation>
    </message>
    <message>
      <source>severity</source>
      <translation>Schwere</translation>
    </message>
    <message>
      <source>share in the propeller wash</source>
      <translation>Anteil im Propellerstrahl</translation>
    </message>
    <message>
      <source>shrink</source>
      <translation>Schrumpfschlauch</translation>
    </message>
    <message>
      <source>shrink bore after</source>
      <translation>Schlauchweite danach</translation>
    </message>
    <message>
      <source>shrink bore before</source>
      <translation>Schlauchweite davor</translation>
    </message>
    <message>
      <source>side</source>
      <translation>Seite</translation>
    </message>
    <message>
      <source>since</source>
      <translation>seit</translation>
    </message>
    <message>
      <source>since yesterday</source>
      <translation>seit gestern</translation>
    </message>
    <message>
      <source>single</source>
      <translation>einzeln</translation>
    </message>
    <message>
      <source>site</source>
      <translation>Platz</translation>
    </message>
    <message>
      <source>size</source>
      <translation>Größe</translation>
    </message>
    <message>
      <source>sketched</source>
      <translation>skizziert</translation>
    </message>
    <message>
      <source>slack, right or tight</source>
      <translation>lose, richtig oder eng</translation>
    </message>
    <message>
      <source>sleeve</source>
      <translation>Hülle</translation>
    </message>
    <message>
      <source>sleeve length</source>
      <translation>Hüllenlänge</translation>
    </message>
    <message>
      <source>slide</source>
      <translation>Schieber</translation>
    </message>
    <message>
      <source>smoke</source>
      <translation>Rauch</translation>
    </message>
    <message>
      <source>snag</source>
      <translation>Mangel</translation>
    </message>
    <message>
      <source>span</source>
      <translation>Spannweite</translation>
    </message>
    <message>
      <source>spare</source>
      <translation>Ersatz</translation>
    </message>
    <message>
      <source>speed for the load</source>
      <translation>Geschwindigkeit für die Last</translation>
    </message>
    <message>
      <source>speed-controller supply</source>
      <translation>Versorgung aus dem Drehzahlsteller</translation>
    </message>
    <message>
      <source>spline diameter</source>
      <translation>Verzahnungsdurchmesser</translation>
    </message>
    <message>
      <source>spline teeth</source>
      <translation>Zähne der Verzahnung</translation>
    </message>
    <message>
      <source>spoiler</source>
      <translation>Störklappe</translation>
    </message>
    <message>
      <source>sport</source>
      <translation>Sportmodell</translation>
    </message>
    <message>
      <source>spruce</source>
      <translation>Fichte</translation>
    </message>
    <message>
      <source>stage {number}</source>
      <translation>Abschnitt {number}</translation>
    </message>
    <message>
      <source>stall current</source>
      <translation>Blockierstrom</translation>
    </message>
    <message>
      <source>stall current measured</source>
      <translation>Blockierstrom gemessen</translation>
    </message>
    <message>
      <source>stall torque</source>
      <translation>Blockiermoment</translation>
    </message>
    <message>
      <source>stalled by the load</source>
      <translation>von der Last blockiert</translation>
    </message>
    <message>
      <source>state</source>
      <translation>Stand</translation>
    </message>
    <message>
      <source>stays as it is</source>
      <translation>bleibt, wie es ist</translation>
    </message>
    <message>
      <source>steel</source>
      <translation>Stahl</translation>
    </message>
    <message>
      <source>steering</source>
      <translation>Lenkung</translation>
    </message>
    <message>
      <source>stick and direction words</source>
      <translation>Knüppel und Richtung in Worten</translation>
    </message>
    <message>
      <source>storage</source>
      <translation>Lagerung</translation>
    </message>
    <message>
      <source>straight</source>
      <translation>gerade</translation>
    </message>
    <message>
      <source>stripped</source>
      <translation>ausgebrochen</translation>
    </message>
    <message>
      <source>supplier</source>
      <translation>Lieferant</translation>
    </message>
    <message>
      <source>surface</source>
      <translation>Ruder</translation>
    </message>
    <message>
      <source>surface ° per arm °</source>
      <translation>Ruder ° je Arm °</translation>
    </message>
    <message>
      <source>suspect</source>
      <translation>verdächtig</translation>
    </message>
    <message>
      <source>swapped</source>
      <translation>getauscht</translation>
    </message>
    <message>
      <source>swashplate</source>
      <translation>Taumelscheibe</translation>
    </message>
    <message>
      <source>sweeps without jitter or dead spot</source>
      <translation>läuft ohne Zittern oder tote Stelle</translation>
    </message>
    <message>
      <source>switch</source>
      <translation>Schalter</translation>
    </message>
    <message>
      <source>switch type</source>
      <translation>Schaltertyp</translation>
    </message>
    <message>
      <source>switching</source>
      <translation>getaktet</translation>
    </message>
    <message>
      <source>swollen</source>
      <translation>gebläht</translation>
    </message>
    <message>
      <source>swollen or crashed</source>
      <translation>gebläht oder abgestürzt</translation>
    </message>
    <message>
      <source>tag</source>
      <translation>Kennung</translation>
    </message>
    <message>
      <source>tag from the Parts Bay</source>
      <translation>Kennung aus dem Teilelager</translation>
    </message>
    <message>
      <source>tags or positions, comma between</source>
      <translation>Kennungen oder Positionen, mit Komma</translation>
    </message>
    <message>
      <source>tags, comma between</source>
      <translation>Kennungen, mit Komma</translation>
    </message>
    <message>
      <source>tail</source>
      <translation>Heck</translation>
    </message>
    <message>
      <source>tail pulse set</source>
      <translation>Impuls des Hecks eingestellt</translation>
    </message>
    <message>
      <source>tail rate set</source>
      <translation>Rate des Hecks eingestellt</translation>
    </message>
    <message>
      <source>taken off after {count} day</source>
      <translation>ausgebaut nach {count} Tag</translation>
    </message>
    <message>
      <source>taken off after {count} days</source>
      <translation>ausgebaut nach {count} Tagen</translation>
    </message>
    <message>
      <source>tells whether the file is still the one that was taken in</source>
      <translation>zeigt, ob die Datei noch die ist, die aufgenommen wurde</translation>
    </message>
    <message>
      <source>tested at</source>
      <translation>geprüft um</translation>
    </message>
    <message>
      <source>tested on</source>
      <translation>geprüft am</translation>
    </message>
    <message>
      <source>text</source>
      <translation>Text</translation>
    </message>
    <message>
      <source>the fleet</source>
      <translation>die Flotte</translation>
    </message>
    <message>
      <source>the greatest rate is not known: take a tenth, {current}</source>
      <translation>der größte Ladestrom ist nicht bekannt: ein Zehntel nehmen, {current}</translation>
    </message>
    <message>
      <source>the highest used</source>
      <translation>der höchste benutzte</translation>
    </message>
    <message>
      <source>the limit that applies to this aircraft</source>
      <translation>die Grenze, die für dieses Flugzeug gilt</translation>
    </message>
    <message>
      <source>the maker's rating</source>
      <translation>die Angabe des Herstellers</translation>
    </message>
    <message>
      <source>the month after</source>
      <translation>übernächsten Monat</translation>
    </message>
    <message>
      <source>the name the trade knows it by, unique in the library</source>
      <translation>der Handelsname, einmalig in der Bibliothek</translation>
    </message>
    <message>
      <source>the same</source>
      <translation>dasselbe</translation>
    </message>
    <message>
      <source>the servo gives</source>
      <translation>das Servo gibt</translation>
    </message>
    <message>
      <source>the supply collapses at peak current: {why}.</source>
      <translation>die Versorgung bricht bei Spitzenstrom zusammen: {why}.</translation>
    </message>
    <message>
      <source>the text it is from</source>
      <translation>der Text, aus dem es stammt</translation>
    </message>
    <message>
      <source>this month</source>
      <translation>diesen Monat</translation>
    </message>
    <message>
      <source>throttle</source>
      <translation>Gas</translation>
    </message>
    <message>
      <source>through gyro</source>
      <translation>durch Kreisel</translation>
    </message>
    <message>
      <source>throw at that speed</source>
      <translation>Ausschlag bei dieser Geschwindigkeit</translation>
    </message>
    <message>
      <source>throw down</source>
      <translation>Ausschlag ab</translation>
    </message>
    <message>
      <source>throw down or right</source>
      <translation>Ausschlag ab oder rechts</translation>
    </message>
    <message>
      <source>throw up</source>
      <translation>Ausschlag auf</translation>
    </message>
    <message>
      <source>throw up or left</source>
      <translation>Ausschlag auf oder links</translation>
    </message>
    <message>
      <source>tick on the shopping list</source>
      <translation>Haken auf der Einkaufsliste</translation>
    </message>
    <message>
      <source>ticked on</source>
      <translation>abgehakt am</translation>
    </message>
    <message>
      <source>tie</source>
      <translation>Binder</translation>
    </message>
    <message>
      <source>tied clear of moving parts</source>
      <translation>frei von bewegten Teilen befestigt</translation>
    </message>
    <message>
      <source>tightest bend radius over diameter</source>
      <translation>engster Biegeradius durch Durchmesser</translation>
    </message>
    <message>
      <source>time for 60°</source>
      <translation>Zeit für 60°</translation>
    </message>
    <message>
      <source>time under load</source>
      <translation>Zeit unter Last</translation>
    </message>
    <message>
      <source>titanium</source>
      <translation>Titan</translation>
    </message>
    <message>
      <source>title</source>
      <translation>Titel</translation>
    </message>
    <message>
      <source>to be shipped by air</source>
      <translation>zum Versand mit dem Flugzeug</translation>
    </message>
    <message>
      <source>to size parts on</source>
      <translation>um Teile danach zu bemessen</translation>
    </message>
    <message>
      <source>today</source>
      <translation>heute</translation>
    </message>
    <message>
      <source>tomorrow</source>
      <translation>morgen</translation>
    </message>
    <message>
      <source>torque at the servo, {unit}</source>
      <translation>Moment am Servo, {unit}</translation>
    </message>
    <message>
      <source>total</source>
      <translation>Summe</translation>
    </message>
    <message>
      <source>tow</source>
      <translation>Schlepp</translation>
    </message>
    <message>
      <source>tow release</source>
      <translation>Schleppkupplung</translation>
    </message>
    <message>
      <source>travel high</source>
      <translation>Weg groß</translation>
    </message>
    <message>
      <source>travel low</source>
      <translation>Weg klein</translation>
    </message>
    <message>
      <source>try-out</source>
      <translation>Probe</translation>
    </message>
    <message>
      <source>tube bore</source>
      <translation>Rohrweite</translation>
    </message>
    <message>
      <source>turbine</source>
      <translation>Turbine</translation>
    </message>
    <message>
      <source>turbine stop time</source>
      <translation>Haltezeit der Turbine</translation>
    </message>
    <message>
      <source>twist loop along the hinge</source>
      <translation>Drehschlaufe am Scharnier</translation>
    </message>
    <message>
      <source>twisted</source>
      <translation>verdrillt</translation>
    </message>
    <message>
      <source>type</source>
      <translation>Typ</translation>
    </message>
    <message>
      <source>type {code}</source>
      <translation>Typ {code}</translation>
    </message>
    <message>
      <source>typical 4</source>
      <translation>typisch 4</translation>
    </message>
    <message>
      <source>typical for the class</source>
      <translation>typisch für die Klasse</translation>
    </message>
    <message>
      <source>typical for the class, not known for this aircraft</source>
      <translation>typisch für die Klasse, für dieses Flugzeug nicht bekannt</translation>
    </message>
    <message>
      <source>undone</source>
      <translation>zurückgenommen</translation>
    </message>
    <message>
      <source>unit</source>
      <translation>Einheit</translation>
    </message>
    <message>
      <source>until</source>
      <translation>bis</translation>
    </message>
    <message>
      <source>up</source>
      <translation>auf</translation>
    </message>
    <message>
      <source>use by on</source>
      <translation>zu brauchen bis</translation>
    </message>
    <message>
      <source>used as brake</source>
      <translation>als Bremse benutzt</translation>
    </message>
    <message>
      <source>usual flying field</source>
      <translation>üblicher Flugplatz</translation>
    </message>
    <message>
      <source>v-tail</source>
      <translation>V-Leitwerk</translation>
    </message>
    <message>
      <source>value</source>
      <translation>Wert</translation>
    </message>
    <message>
      <source>volts</source>
      <translation>Volt</translation>
    </message>
    <message>
      <source>volts at rest</source>
      <translation>Volt in Ruhe</translation>
    </message>
    <message>
      <source>volts at the servo</source>
      <translation>Volt am Servo</translation>
    </message>
    <message>
      <source>volts under load</source>
      <translation>Spannung unter Last</translation>
    </message>
    <message>
      <source>wanted</source>
      <translation>gebraucht</translation>
    </message>
    <message>
      <source>warning</source>
      <translation>Warnung</translation>
    </message>
    <message>
      <source>warnings</source>
      <translation>Warnungen</translation>
    </message>
    <message>
      <source>what</source>
      <translation>was</translation>
    </message>
    <message>
      <source>what it is</source>
      <translation>was es ist</translation>
    </message>
    <message>
      <source>when not the aircraft's dive speed</source>
      <translation>wenn nicht die Sturzfluggeschwindigkeit des Flugzeugs</translation>
    </message>
    <message>
      <source>when not the full throw</source>
      <translation>wenn nicht der volle Ausschlag</translation>
    </message>
    <message>
      <source>where the rules want one</source>
      <translation>wo die Regeln einen verlangen</translation>
    </message>
    <message>
      <source>wherever one pack feeds the radio</source>
      <translation>überall, wo ein Akku den Empfang speist</translation>
    </message>
    <message>
      <source>whole chord</source>
      <translation>ganze Tiefe</translation>
    </message>
    <message>
      <source>why</source>
      <translation>warum</translation>
    </message>
    <message>
      <source>widest support spacing</source>
      <translation>weitester Stützabstand</translation>
    </message>
    <message>
      <source>width</source>
      <translation>Breite</translation>
    </message>
    <message>
      <source>wind</source>
      <translation>Wind</translation>
    </message>
    <message>
      <source>wing area</source>
      <translation>Flügelfläche</translation>
    </message>
    <message>
      <source>wires inspected on</source>
      <translation>Adern durchgesehen am</translation>
    </message>
    <message>
      <source>with &amp;accepted ones</source>
      <translation>mit angenomm&amp;enen</translation>
    </message>
    <message>
      <source>with any findings</source>
      <translation>mit beliebigen Befunden</translation>
    </message>
    <message>
      <source>with open warnings</source>
      <translation>mit offenen Warnungen</translation>
    </message>
    <message>
      <source>with something overdue</source>
      <translation>mit Überfälligem</translation>
    </message>
    <message>
      <source>with warnings or cautions</source>
      <translation>mit Warnungen oder Bedenken</translation>
    </message>
    <message>
      <source>within</source>
      <translation>innerhalb</translation>
    </message>
    <message>
      <source>within the folder beside the fleet file</source>
      <translation>im Ordner neben der Flottendatei</translation>
    </message>
    <message>
      <source>without open findings</source>
      <translation>ohne offene Befunde</translation>
    </message>
    <message>
      <source>without {mass} of supply whose place is not recorded</source>
      <translation>ohne {mass} Versorgung, deren Platz nicht eingetragen ist</translation>
    </message>
    <message>
      <source>worked out from other numbers</source>
      <translation>aus anderen Zahlen gerechnet</translation>
    </message>
    <message>
      <source>worse</source>
      <translation>schlechter</translation>
    </message>
    <message>
      <source>worst first</source>
      <translation>Schlimmste zuerst</translation>
    </message>
    <message>
      <source>written off</source>
      <translation>abgeschrieben</translation>
    </message>
    <message>
      <source>wrong direction</source>
      <translation>falsche Richtung</translation>
    </message>
    <message>
      <source>year built</source>
      <translation>Baujahr</translation>
    </message>
    <message>
      <source>year made</source>
      <translation>Baujahr</translation>
    </message>
    <message>
      <source>yearly</source>
      <translation>jährlich</translation>
    </message>
    <message>
      <source>yes</source>
      <translation>ja</translation>
    </message>
    <message>
      <source>your own</source>
      <translation>eigene</translation>
    </message>
    <message>
      <source>{age} old</source>
      <translation>{age} alt</translation>
    </message>
    <message>
      <source>{angle} in {time} s</source>
      <translation>{angle} in {time} s</translation>
    </message>
    <message>
      <source>{balance}, wanted {low} to {high}</source>
      <translation>{balance}, verlangt {low} bis {high}</translation>
    </message>
    <message>
      <source>{bars} (less may do)</source>
      <translation>{bars} (weniger mag genügen)</translation>
    </message>
    <message>
      <source>{charge} put back</source>
      <translation>{charge} zurückgeladen</translation>
    </message>
    <message>
      <source>{code} must not fly: {reasons}.</source>
      <translation>{code} darf nicht fliegen: {reasons}.</translation>
    </message>
    <message>
      <source>{cost}, {count} line without a price</source>
      <translation>{cost}, {count} Zeile ohne Preis</translation>
    </message>
    <message>
      <source>{cost}, {count} lines without a price</source>
      <translation>{cost}, {count} Zeilen ohne Preis</translation>
    </message>
    <message>
      <source>{count} aircraft go along: {codes}.</source>
      <translation>{count} Flugzeuge kommen mit: {codes}.</translation>
    </message>
    <message>
      <source>{count} aircraft goes along: {codes}.</source>
      <translation>{count} Flugzeug kommt mit: {codes}.</translation>
    </message>
    <message>
      <source>{count} aircraft still to look at</source>
      <translation>{count} Flugzeuge noch anzusehen</translation>
    </message>
    <message>
      <source>{count} change for {price}</source>
      <translation>{count} Änderung für {price}</translation>
    </message>
    <message>
      <source>{count} changes for {price}</source>
      <translation>{count} Änderungen für {price}</translation>
    </message>
    <message>
      <source>{count} cycle</source>
      <translation>{count} Zyklus</translation>
    </message>
    <message>
      <source>{count} cycles</source>
      <translation>{count} Zyklen</translation>
    </message>
    <message>
      <source>{count} days overdue</source>
      <translation>{count} Tage überfällig</translation>
    </message>
    <message>
      <source>{count} found. Enter goes there.</source>
      <translation>{count} gefunden. Eingabetaste geht hin.</translation>
    </message>
    <message>
      <source>{count} gone</source>
      <translation>{count} weg</translation>
    </message>
    <message>
      <source>{count} min</source>
      <translation>{count} min</translation>
    </message>
    <message>
      <source>{count} more are not shown.</source>
      <translation>{count} weitere werden nicht gezeigt.</translation>
    </message>
    <message>
      <source>{count} more is not shown.</source>
      <translation>{count} weiterer wird nicht gezeigt.</translation>
    </message>
    <message>
      <source>{count} new</source>
      <translation>{count} neu</translation>
    </message>
    <message>
      <source>{count} not shown: {columns}</source>
      <translation>{count} nicht gezeigt: {columns}</translation>
    </message>
    <message>
      <source>{count} of {length}</source>
      <translation>{count} von {length}</translation>
    </message>
    <message>
      <source>{count} overdue</source>
      <translation>{count} überfällig</translation>
    </message>
    <message>
      <source>{count} readings, the last {value} on {day}.</source>
      <translation>{count} Messwerte, der letzte {value} am {day}.</translation>
    </message>
    <message>
      <source>{count} refit that none beats.</source>
      <translation>{count} Umbau, den keiner übertrifft.</translation>
    </message>
    <message>
      <source>{count} refits that none beats.</source>
      <translation>{count} Umbauten, die keiner übertrifft.</translation>
    </message>
    <message>
      <source>{count} still to buy, {sum} together, of {all} in all.</source>
      <translation>{count} noch zu kaufen, zusammen {sum}, von {all} im Ganzen.</translation>
    </message>
    <message>
      <source>{count} tables were written to {folder}.</source>
      <translation>{count} Tabellen wurden in {folder} geschrieben.</translation>
    </message>
    <message>
      <source>{count} things overdue, first {what} {about}</source>
      <translation>{count} Dinge überfällig, zuerst {what} {about}</translation>
    </message>
    <message>
      <source>{current} at the most</source>
      <translation>höchstens {current}</translation>
    </message>
    <message>
      <source>{day}: {text}</source>
      <translation>{day}: {text}</translation>
    </message>
    <message>
      <source>{day}: {volts} at {load}</source>
      <translation>{day}: {volts} bei {load}</translation>
    </message>
    <message>
      <source>{done} of {count} line done</source>
      <translation>{done} von {count} Zeile erledigt</translation>
    </message>
    <message>
      <source>{done} of {count} lines done</source>
      <translation>{done} von {count} Zeilen erledigt</translation>
    </message>
    <message>
      <source>{fields} is missing; it must be given.</source>
      <translation>{fields} fehlt; muss angegeben werden.</translation>
    </message>
    <message>
      <source>{finding} can be told</source>
      <translation>{finding} lässt sich dann sagen</translation>
    </message>
    <message>
      <source>{finding} may come as {level}</source>
      <translation>{finding} kann dazukommen als {level}</translation>
    </message>
    <message>
      <source>{finding} may go</source>
      <translation>{finding} kann wegfallen</translation>
    </message>
    <message>
      <source>{first} and {second}</source>
      <translation>{first} und {second}</translation>
    </message>
    <message>
      <source>{fleet} — Hangar</source>
      <translation>{fleet} — Hangar</translation>
    </message>
    <message>
      <source>{found} Its newest backup is {name}. {cost}</source>
      <translation>{found} Die neueste Sicherung ist {name}. {cost}</translation>
    </message>
    <message>
      <source>{heading}: no such field, not taken</source>
      <translation>{heading}: kein solches Feld, nicht übernommen</translation>
    </message>
    <message>
      <source>{high} or less</source>
      <translation>{high} oder weniger</translation>
    </message>
    <message>
      <source>{label} (undone)</source>
      <translation>{label} (zurückgenommen)</translation>
    </message>
    <message>
      <source>{label} is {found}; allowed is {allowed}.</source>
      <translation>{label} ist {found}; erlaubt ist {allowed}.</translation>
    </message>
    <message>
      <source>{label}: "{text}" is not a date; a date such as {example} is wanted.</source>
      <translation>{label}: „{text}“ ist kein Datum; verlangt ist ein Datum wie {example}.</translation>
    </message>
    <message>
      <source>{label}: "{text}" is not a number; a number such as 4 is wanted.</source>
      <translation>{label}: „{text}“ ist keine Zahl; verlangt ist eine Zahl wie 4.</translation>
    </message>
    <message>
      <source>{label}: "{text}" is not in the list; allowed is {allowed}.</source>
      <translation>{label}: „{text}“ steht nicht in der Liste; erlaubt ist {allowed}.</translation>
    </message>
    <message>
      <source>{label}: "{text}" is not understood; allowed is yes, no or not known.</source>
      <translation>{label}: „{text}“ ist unverständlich; erlaubt ist ja, nein oder nicht bekannt.</translation>
    </message>
    <message>
      <source>{label}: "{text}" names no position; a position and seconds are wanted, such as RUD 0.10.</source>
      <translation>{label}: „{text}“ nennt keine Position; verlangt sind eine Position und Sekunden, etwa RUD 0.10.</translation>
    </message>
    <message>
      <source>{label}: {text} is less than nothing; 0 or more is allowed.</source>
      <translation>{label}: {text} ist weniger als nichts; erlaubt ist 0 oder mehr.</translation>
    </message>
    <message>
      <source>{left}; {why}</source>
      <translation>{left}; {why}</translation>
    </message>
    <message>
      <source>{length} each</source>
      <translation>je {length}</translation>
    </message>
    <message>
      <source>{length} in all</source>
      <translation>{length} im Ganzen</translation>
    </message>
    <message>
      <source>{length}, bore {bore}</source>
      <translation>{length}, Weite {bore}</translation>
    </message>
    <message>
      <source>{loaded} at {load}, {rest} at rest</source>
      <translation>{loaded} bei {load}, {rest} in Ruhe</translation>
    </message>
    <message>
      <source>{low} or more</source>
      <translation>{low} oder mehr</translation>
    </message>
    <message>
      <source>{low} to {high}</source>
      <translation>{low} bis {high}</translation>
    </message>
    <message>
      <source>{mass} of ballast at {place} brings it to the middle</source>
      <translation>{mass} Ballast bei {place} bringt ihn in die Mitte</translation>
    </message>
    <message>
      <source>{mass}, mass not known of {types}</source>
      <translation>{mass}, Masse nicht bekannt von {types}</translation>
    </message>
    <message>
      <source>{name} cannot be shown as a picture: {why}.</source>
      <translation>{name} lässt sich nicht als Bild zeigen: {why}.</translation>
    </message>
    <message>
      <source>{name} does not turn at {volts} V.</source>
      <translation>{name} dreht bei {volts} V nicht.</translation>
    </message>
    <message>
      <source>{name} is fed {volts}, {flag}: its figures are estimates there.</source>
      <translation>{name} bekommt {volts}, {flag}: seine Zahlen sind dort Schätzungen.</translation>
    </message>
    <message>
      <source>{name} is no picture; save a copy to open it.</source>
      <translation>{name} ist kein Bild; zum Öffnen eine Kopie speichern.</translation>
    </message>
    <message>
      <source>{name} is there after {time} s.</source>
      <translation>{name} ist nach {time} s da.</translation>
    </message>
    <message>
      <source>{name} needs {time} s: {ahead} s or {share} % longer, and has turned {angle} by then.</source>
      <translation>{name} braucht {time} s: {ahead} s oder {share} % länger, und ist bis dahin {angle} gedreht.</translation>
    </message>
    <message>
      <source>{name} never arrives: the load stalls it, it can hold {share} % of it.</source>
      <translation>{name} kommt nie an: die Last hält es auf, es kann {share} % davon halten.</translation>
    </message>
    <message>
      <source>{name} was restored; what lay there is kept as {aside}.</source>
      <translation>{name} wurde zurückgeholt; was dort lag, liegt jetzt unter {aside}.</translation>
    </message>
    <message>
      <source>{name}: its ratings are not known.</source>
      <translation>{name}: seine Nenndaten sind nicht bekannt.</translation>
    </message>
    <message>
      <source>{name}: old {old}, new {new}, {verdict}</source>
      <translation>{name}: alt {old}, neu {new}, {verdict}</translation>
    </message>
    <message>
      <source>{name}: {basis}. Click or press Ctrl+H to see how.</source>
      <translation>{name}: {basis}. Klick oder Ctrl+H zeigt, wie.</translation>
    </message>
    <message>
      <source>{name}: {count} of {size}, {paper}</source>
      <translation>{name}: {count} von {size}, {paper}</translation>
    </message>
    <message>
      <source>{n} plans</source>
      <translation>{n} Pläne</translation>
    </message>
    <message>
      <source>{n} times slower</source>
      <translation>{n}-mal langsamer</translation>
    </message>
    <message>
      <source>{pack}: lost</source>
      <translation>{pack}: ausgefallen</translation>
    </message>
    <message>
      <source>{part} at {place}</source>
      <translation>{part} an {place}</translation>
    </message>
    <message>
      <source>{path} cannot be written: {why}.</source>
      <translation>{path} kann nicht geschrieben werden: {why}.</translation>
    </message>
    <message>
      <source>{position}, servo travel {travel}</source>
      <translation>{position}, Servoweg {travel}</translation>
    </message>
    <message>
      <source>{price} of {budget} spent; risk {before} → {after}, shortage {short} → {left}.</source>
      <translation>{price} von {budget} ausgegeben; Risiko {before} → {after}, Mangel {short} → {left}.</translation>
    </message>
    <message>
      <source>{reached} of {wanted}</source>
      <translation>{reached} von {wanted}</translation>
    </message>
    <message>
      <source>{rest} at rest is below what its cells bear; do not charge it, quarantine it</source>
      <translation>{rest} in Ruhe ist weniger, als die Zellen vertragen; nicht laden, in Quarantäne legen</translation>
    </message>
    <message>
      <source>{rest} at rest is less than {band}; top it up</source>
      <translation>{rest} in Ruhe ist weniger als {band}; nachladen</translation>
    </message>
    <message>
      <source>{rest} at rest lies within {band}</source>
      <translation>{rest} in Ruhe liegt in {band}</translation>
    </message>
    <message>
      <source>{rest} at rest, {loaded} at {load}</source>
      <translation>{rest} in Ruhe, {loaded} bei {load}</translation>
    </message>
    <message>
      <source>{rest} at rest; bring it down to {band} if it does not fly within {days} days</source>
      <translation>{rest} in Ruhe; auf {band} bringen, wenn er nicht in {days} Tagen fliegt</translation>
    </message>
    <message>
      <source>{shown} of {all} aircraft</source>
      <translation>{shown} von {all} Flugzeugen</translation>
    </message>
    <message>
      <source>{tag}  {type}, from the Parts Bay</source>
      <translation>{tag}  {type}, aus dem Teilelager</translation>
    </message>
    <message>
      <source>{tag}, {what}, feeds: {feeds}</source>
      <translation>{tag}, {what}, speist: {feeds}</translation>
    </message>
    <message>
      <source>{title} (today {today})</source>
      <translation>{title} (heute {today})</translation>
    </message>
    <message>
      <source>{type} at {position}</source>
      <translation>{type} an {position}</translation>
    </message>
    <message>
      <source>{type}, new</source>
      <translation>{type}, neu</translation>
    </message>
    <message>
      <source>{type}, new from the Parts Bay as {tag}</source>
      <translation>{type}, neu aus dem Teilelager als {tag}</translation>
    </message>
    <message>
      <source>{type}, new, {count} in the Parts Bay</source>
      <translation>{type}, neu, {count} auf Teilelager</translation>
    </message>
    <message>
      <source>{type}, set {volts}</source>
      <translation>{type}, eingestellt {volts}</translation>
    </message>
    <message>
      <source>{value} at end A</source>
      <translation>{value} am Ende A</translation>
    </message>
    <message>
      <source>{value} at end B</source>
      <translation>{value} am Ende B</translation>
    </message>
    <message>
      <source>{value} at neutral</source>
      <translation>{value} bei neutral</translation>
    </message>
    <message>
      <source>{value} moving</source>
      <translation>{value} bewegt</translation>
    </message>
    <message>
      <source>{volts} stay above the lower limits.</source>
      <translation>{volts} bleiben über den unteren Grenzen.</translation>
    </message>
    <message>
      <source>{what} {about}</source>
      <translation>{what} {about}</translation>
    </message>
    <message>
      <source>{what}: {low} to {high} of servo travel</source>
      <translation>{what}: {low} bis {high} des Servowegs</translation>
    </message>
    <message>
      <source>{why} Log it all the same, and have that kept with it?</source>
      <translation>{why} Trotzdem eintragen und das dabei festhalten?</translation>
    </message>
    <message>
      <source>← &amp;Back</source>
      <translation>← &amp;Zurück</translation>
    </message>
    <message>
      <source>← &amp;Board</source>
      <translation>← B&amp;rett</translation>
    </message>
  </context>
</TS>
