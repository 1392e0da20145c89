/** The map of a survey as the server gives it: GeoJSON, longitude before latitude, WGS 84. */

export type LonLat = readonly [number, number];

export interface StreamFeature {
  readonly type: "Feature";
  readonly geometry: { readonly type: "LineString"; readonly coordinates: readonly LonLat[] } | null;
  readonly properties: { readonly kind: "stream"; readonly name: string };
}

export interface SiteFeature {
  readonly type: "Feature";
  readonly geometry: { readonly type: "Point"; readonly coordinates: LonLat } | null;
  readonly properties: {
    readonly kind: "site";
    readonly id: string;
    readonly stream: string;
    readonly name: string;
    readonly label: string | null;
    readonly visits: number;
    /** Of the last visit. */
    readonly gauging: string | null;
    readonly day: string | null;
    readonly discharge_m3s: number | null;
    readonly unit_discharge_l_s_km2: number | null;
  };
}

export interface SurveyMap {
  readonly type: "FeatureCollection";
  readonly features: readonly (StreamFeature | SiteFeature)[];
}
