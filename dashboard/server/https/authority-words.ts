// The words of the page that hands out the authority's certificate, in the languages of the screens.

interface AuthorityWords {
  readonly title: string;
  readonly why: string;
  readonly compare: string;
  readonly fingerprint: string;
  readonly until: string;
  readonly download: string;
  readonly onDevice: string;
  readonly open: string;
  readonly devices: readonly { readonly name: string; readonly steps: readonly string[] }[];
  readonly undo: string;
}

export const AUTHORITY_WORDS: Readonly<Record<'en' | 'de', AuthorityWords>> = {
  en: {
    title: 'Trust this lab on your phone',
    why: 'A phone shows notices and takes acknowledgements only from an address that it trusts. This lab vouches for its own address. Its certificate is good for names and private addresses of this network alone, never for a site on the internet.',
    compare:
      'First compare the fingerprint with the one that the console of the lab’s computer shows. If they differ, stop: somebody else answered.',
    fingerprint: 'Fingerprint (SHA-256)',
    until: 'Good until',
    download: 'Get the certificate',
    onDevice: 'Then on your device',
    open: 'Open the lab',
    devices: [
      {
        name: 'iPhone, iPad',
        steps: [
          'Open this page in Safari, get the certificate and allow the download of the profile.',
          'Settings, “Profile Downloaded”: install it and enter the code of the phone.',
          'Settings, General, About, Certificate Trust Settings: switch the certificate on. Without this step nothing is trusted.',
          'For notices: open the lab in Safari, share it to the home screen, and start it from there.',
        ],
      },
      {
        name: 'Android',
        steps: [
          'Get the certificate; it lies in the downloads.',
          'Settings, Security, Encryption and credentials, Install a certificate, CA certificate. The names differ a little between makers.',
          'Choose the file and confirm the warning: it is meant for certificates of strangers.',
          'Firefox on Android: Settings, About Firefox, touch the logo five times, then Secret Settings, Use third party CA certificates.',
        ],
      },
      {
        name: 'Windows',
        steps: [
          'Open the file, Install Certificate, Current User.',
          'Place it in the store “Trusted Root Certification Authorities”.',
        ],
      },
      {
        name: 'macOS',
        steps: [
          'Open the file; it goes to the keychain “login”.',
          'Open it there, Trust, “Always Trust” for SSL.',
        ],
      },
      {
        name: 'Linux, Firefox',
        steps: [
          'Settings, Privacy and Security, View Certificates, Authorities, Import.',
          'Tick that it may identify websites. Chromium has the same under Manage certificates.',
        ],
      },
    ],
    undo: 'To undo it, remove the certificate at the same place. A phone that leaves the lab should lose it.',
  },
  de: {
    title: 'Diesem Labor auf dem Telefon vertrauen',
    why: 'Ein Telefon zeigt Meldungen nur von einer Adresse, der es vertraut, und nimmt nur dort Quittierungen an. Dieses Labor bürgt selbst für seine Adresse. Sein Zertifikat gilt nur für Namen und private Adressen dieses Netzes, nie für eine Seite im Internet.',
    compare:
      'Zuerst den Fingerabdruck mit dem vergleichen, den die Konsole des Laborrechners zeigt. Weichen sie ab: aufhören, es hat jemand anderes geantwortet.',
    fingerprint: 'Fingerabdruck (SHA-256)',
    until: 'Gültig bis',
    download: 'Zertifikat holen',
    onDevice: 'Danach auf dem Gerät',
    open: 'Labor öffnen',
    devices: [
      {
        name: 'iPhone, iPad',
        steps: [
          'Diese Seite in Safari öffnen, das Zertifikat holen und das Laden des Profils erlauben.',
          'Einstellungen, „Profil geladen“: installieren und den Code des Telefons eingeben.',
          'Einstellungen, Allgemein, Info, Zertifikatsvertrauenseinstellungen: das Zertifikat einschalten. Ohne diesen Schritt gilt es nicht.',
          'Für Meldungen: das Labor in Safari öffnen, zum Home-Bildschirm hinzufügen und von dort starten.',
        ],
      },
      {
        name: 'Android',
        steps: [
          'Das Zertifikat holen; es liegt bei den Downloads.',
          'Einstellungen, Sicherheit, Verschlüsselung und Anmeldedaten, Zertifikat installieren, CA-Zertifikat. Die Namen unterscheiden sich je nach Hersteller etwas.',
          'Die Datei wählen und die Warnung bestätigen: sie gilt Zertifikaten von Fremden.',
          'Firefox auf Android: Einstellungen, Über Firefox, fünfmal auf das Logo tippen, dann Secret Settings, Zertifikate Dritter verwenden.',
        ],
      },
      {
        name: 'Windows',
        steps: [
          'Die Datei öffnen, Zertifikat installieren, Aktueller Benutzer.',
          'Im Speicher „Vertrauenswürdige Stammzertifizierungsstellen“ ablegen.',
        ],
      },
      {
        name: 'macOS',
        steps: [
          'Die Datei öffnen; sie kommt in den Schlüsselbund „Anmeldung“.',
          'Dort öffnen, Vertrauen, für SSL „Immer vertrauen“.',
        ],
      },
      {
        name: 'Linux, Firefox',
        steps: [
          'Einstellungen, Datenschutz und Sicherheit, Zertifikate anzeigen, Zertifizierungsstellen, Importieren.',
          'Ankreuzen, dass sie Websites identifizieren darf. Chromium hat dasselbe unter Zertifikate verwalten.',
        ],
      },
    ],
    undo: 'Zum Zurücknehmen das Zertifikat an derselben Stelle entfernen. Ein Telefon, das das Labor verlässt, soll es verlieren.',
  },
};
