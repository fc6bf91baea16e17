BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0003');
CREATE TABLE bed (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(40) NOT NULL, 
	body TEXT NOT NULL, 
	entry VARCHAR(64) NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "bed" VALUES('00000000000000000000000000000001','bed-1','{"id":"bed-1","name":"The \"long\" bed 🥕","length_m":6.0,"width_m":1.2,"shape":"rectangle","height_m":0.0,"orientation_deg":0.0,"east_m":0.0,"north_m":0.0,"soil":"","cover":"none","perennial":false}','a2');
CREATE TABLE cultivar (
	garden VARCHAR(32) NOT NULL, 
	crop VARCHAR(40) NOT NULL, 
	name VARCHAR(80) NOT NULL, 
	body TEXT NOT NULL, 
	entry VARCHAR(64) NOT NULL, 
	PRIMARY KEY (garden, crop, name)
);
INSERT INTO "cultivar" VALUES('00000000000000000000000000000001','pea','O''Grey','{"crop":"pea","name":"O''Grey","days_to_maturity":62.0,"days_from":"sown","counted_here":false,"resistance":["F"],"habit":""}','a3');
CREATE TABLE entry (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(64) NOT NULL, 
	kind VARCHAR(40) NOT NULL, 
	version INTEGER NOT NULL, 
	happened VARCHAR(10) NOT NULL, 
	written VARCHAR(20) NOT NULL, 
	who VARCHAR(80) NOT NULL, 
	target VARCHAR(40) NOT NULL, 
	quantity FLOAT, 
	unit VARCHAR(80) NOT NULL, 
	text TEXT NOT NULL, 
	supersedes VARCHAR(64) NOT NULL, 
	payload TEXT NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a1','garden',1,'2026-01-02','2026-01-02T08:00:00Z','Wren','',NULL,'','','','{"latitude":51.0,"longitude":4.5,"name":"Nether Wold"}');
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a2','bed',1,'2026-01-02','2026-01-02T08:00:00Z','Wren','bed-1',NULL,'','','','{"length_m":6.0,"name":"The \"long\" bed 🥕","width_m":1.2}');
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a3','cultivar',1,'2026-01-03','2026-01-03T08:00:00Z','Wren','',NULL,'','','','{"crop":"pea","days_to_maturity":62.0,"name":"O''Grey","resistance":["F"]}');
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a4','planting',1,'2026-03-01','2026-03-01T08:00:00Z','Wren','pea-1',NULL,'','','','{"bed":"bed-1","count":120,"crop":"pea","cultivar":"O''Grey","start":"sown"}');
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a5','sow',1,'2026-03-12','2026-03-12T08:00:00Z','Wren','pea-1',150.0,'seeds','Wet ground;
half a row flooded.','','{}');
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a6','pick',1,'2026-06-10','2026-06-10T08:00:00Z','Wren','pea-1',1.25,'kg','','','{}');
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a7','pick',1,'2026-06-11','2026-06-11T08:00:00Z','Wren','pea-1',2.25,'kg','','a6','{}');
INSERT INTO "entry" VALUES('00000000000000000000000000000001','a8','moon-phase',1,'2026-06-12','2026-06-12T08:00:00Z','Wren','',NULL,'','','','{"phase":[1,2.5,null,true,"full"]}');
CREATE TABLE garden (
	id VARCHAR(32) NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "garden" VALUES('00000000000000000000000000000001');
CREATE TABLE hours (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(64) NOT NULL, 
	name VARCHAR(80) NOT NULL, 
	imported VARCHAR(20) NOT NULL, 
	forecast VARCHAR(64) NOT NULL, 
	source TEXT NOT NULL, 
	first VARCHAR(20) NOT NULL, 
	last VARCHAR(20) NOT NULL, 
	count INTEGER NOT NULL, 
	wind_height_m FLOAT NOT NULL, 
	set_aside TEXT NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "hours" VALUES('00000000000000000000000000000001','900799fcce021e34f141e85258453ced3705430e7c4d12168ffae1896f012620','hours','2026-06-12T08:00:00Z','','invented hours','2026-06-11T22:00:00Z','2026-06-12T00:00:00Z',3,10.0,'[{"line":3,"day":"2026-06-12","value":"99","rule":"not a number","file":"h.csv"}]');
INSERT INTO "hours" VALUES('00000000000000000000000000000001','40411dcf47477aa7028597128f6f40056c89c2d48e0d118f31ec175f6581a5b0','','2026-06-12T08:00:00Z','d6e9fc5b020b6d9ec4848054f6d2db5687b5795e39d0a13a3535541d426af3c9','open-meteo forecast','2026-06-12T01:00:00Z','2026-06-12T03:00:00Z',3,10.0,'[]');
CREATE TABLE hours_column (
	garden VARCHAR(32) NOT NULL, 
	hours VARCHAR(64) NOT NULL, 
	name VARCHAR(40) NOT NULL, 
	encoding VARCHAR(20) NOT NULL, 
	cells BLOB NOT NULL, 
	PRIMARY KEY (garden, hours, name)
);
INSERT INTO "hours_column" VALUES('00000000000000000000000000000001','900799fcce021e34f141e85258453ced3705430e7c4d12168ffae1896f012620','temp_c','f8',X'7801636000010107D9A814EBFBFE57EDC15C861FF5002FD60520');
INSERT INTO "hours_column" VALUES('00000000000000000000000000000001','900799fcce021e34f141e85258453ced3705430e7c4d12168ffae1896f012620','wind_m_s','tenths-i2',X'7801E36210619063000000CE003D');
INSERT INTO "hours_column" VALUES('00000000000000000000000000000001','40411dcf47477aa7028597128f6f40056c89c2d48e0d118f31ec175f6581a5b0','temp_c','tenths-i2',X'7801D3603062B061000002360097');
CREATE TABLE issued (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(64) NOT NULL, 
	schema VARCHAR(80) NOT NULL, 
	for_day VARCHAR(10) NOT NULL, 
	as_known VARCHAR(10), 
	made_at VARCHAR(20) NOT NULL, 
	version VARCHAR(40) NOT NULL, 
	facts VARCHAR(80) NOT NULL, 
	body TEXT NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "issued" VALUES('00000000000000000000000000000001','00c23c9c5dfe263b9339534e48726bda197220642d2a50d47bde3ed09553bdfe','kailyard.table/1','2026-06-12',NULL,'2026-06-12T08:00:00Z','0.1.0','f1','{"title":"Nether Wold"}');
CREATE TABLE issued_forecast (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(64) NOT NULL, 
	source VARCHAR(40) NOT NULL, 
	issued VARCHAR(20) NOT NULL, 
	kept VARCHAR(20) NOT NULL, 
	body TEXT NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "issued_forecast" VALUES('00000000000000000000000000000001','d6e9fc5b020b6d9ec4848054f6d2db5687b5795e39d0a13a3535541d426af3c9','open-meteo','2026-06-12T08:00:00Z','2026-06-12T08:00:00Z','{"on":"2026-06-12","first":"2026-06-12","tmin_c":[4.0,5.5],"tmax_c":[15.0,null],"rain_mm":[0.0,2.5],"credit":"Invented"}');
CREATE TABLE normals (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(64) NOT NULL, 
	kept VARCHAR(20) NOT NULL, 
	body TEXT NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "normals" VALUES('00000000000000000000000000000001','193eef775734478b4f149370c9b9d9c06c848432f52530d4b57e8f058defc82a','2026-06-12T08:00:00Z','{"station":"XXI00000001","period":"1991-2020","tmin_c":[1.5,null,null,null,null,null,null,null,null,null,null,null],"tmax_c":[6.0,null,null,null,null,null,null,null,null,null,null,null],"rain_mm":[50.0,null,null,null,null,null,null,null,null,null,null,null],"credit":"Invented"}');
CREATE TABLE planting (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(40) NOT NULL, 
	body TEXT NOT NULL, 
	entry VARCHAR(64) NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "planting" VALUES('00000000000000000000000000000001','pea-1','{"id":"pea-1","crop":"pea","bed":"bed-1","start":"sown","cultivar":"O''Grey","count":120,"rows":1,"spacing_cm":null,"row_cm":null,"place_m":0.0,"length_m":null,"planned":null,"since":null,"wave":"","note":""}','a4');
CREATE TABLE weather (
	garden VARCHAR(32) NOT NULL, 
	id VARCHAR(64) NOT NULL, 
	name VARCHAR(80) NOT NULL, 
	imported VARCHAR(20) NOT NULL, 
	source TEXT NOT NULL, 
	first VARCHAR(10) NOT NULL, 
	days INTEGER NOT NULL, 
	set_aside TEXT NOT NULL, 
	PRIMARY KEY (garden, id)
);
INSERT INTO "weather" VALUES('00000000000000000000000000000001','471a29161c9d177c386f83073eabd40d03306b731908384842bdc7738f5f8dec','station','2026-02-01T08:00:00Z','invented station','2026-01-01',3,'[{"line":3,"day":"2026-01-02","value":"99","rule":"minimum above maximum","file":""}]');
CREATE TABLE weather_column (
	garden VARCHAR(32) NOT NULL, 
	weather VARCHAR(64) NOT NULL, 
	name VARCHAR(40) NOT NULL, 
	encoding VARCHAR(20) NOT NULL, 
	cells BLOB NOT NULL, 
	PRIMARY KEY (garden, weather, name)
);
INSERT INTO "weather_column" VALUES('00000000000000000000000000000001','471a29161c9d177c386f83073eabd40d03306b731908384842bdc7738f5f8dec','tmin_c','tenths-i2',X'7801FBF89FA1819901000C2D0274');
INSERT INTO "weather_column" VALUES('00000000000000000000000000000001','471a29161c9d177c386f83073eabd40d03306b731908384842bdc7738f5f8dec','tmax_c','f8',X'780163600001010730C520E6100A0657ED01157203B9');
INSERT INTO "weather_column" VALUES('00000000000000000000000000000001','471a29161c9d177c386f83073eabd40d03306b731908384842bdc7738f5f8dec','rain_mm','tenths-i2',X'78016360A8676068000002820100');
CREATE INDEX entry_kind ON entry (garden, kind);
CREATE INDEX entry_supersedes ON entry (garden, supersedes);
COMMIT;
