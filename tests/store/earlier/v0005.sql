BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0005');
CREATE TABLE barrel (
	family_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	tube_id INTEGER, 
	drill VARCHAR, 
	finished_a VARCHAR, 
	finished_b VARCHAR, 
	length VARCHAR, usual VARCHAR DEFAULT '[]' NOT NULL, 
	CONSTRAINT pk_barrel PRIMARY KEY (family_id, position), 
	CONSTRAINT fk_barrel_family_id_family FOREIGN KEY(family_id) REFERENCES family (id), 
	CONSTRAINT fk_barrel_tube_id_part FOREIGN KEY(tube_id) REFERENCES part (id)
);
INSERT INTO "barrel" VALUES(1,0,'upper',1,'7 mm','8.4 mm','8.4 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(1,1,'lower',1,'7 mm','8.4 mm','8.4 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(2,0,'upper',2,'7 mm','8.4 mm','8.4 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(2,1,'lower',2,'7 mm','8.4 mm','8.4 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(3,0,'barrel',6,'27/64','11.9 mm','12.4 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(4,0,'barrel',7,'10.5 mm','11.6 mm','12.7 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(5,0,'cap',9,'12.5 mm','14.6 mm','15.1 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(5,1,'body',8,'10.5 mm','12.2 mm','12.6 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(6,0,'barrel',10,'33/64','15.4 mm','81/128 in',NULL,'[]');
INSERT INTO "barrel" VALUES(7,0,'handle',3,'O','11.2 mm','12 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(8,0,'stopper',NULL,'5/16','34 mm','14 mm','58 mm','[]');
INSERT INTO "barrel" VALUES(9,0,'barrel',5,'25/64','12 mm','12 mm',NULL,'[]');
INSERT INTO "barrel" VALUES(10,0,'barrel',4,'3/8','11.3 mm','11.8 mm',NULL,'[]');
CREATE TABLE bill_line (
	pattern_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	stage VARCHAR NOT NULL, 
	part_id INTEGER, 
	role VARCHAR, 
	taken_id INTEGER, 
	quantity BIGINT NOT NULL, 
	per VARCHAR NOT NULL, usual VARCHAR DEFAULT '[]' NOT NULL, 
	CONSTRAINT pk_bill_line PRIMARY KEY (pattern_id, position), 
	CONSTRAINT ck_bill_line_names_one_thing CHECK ((part_id IS NOT NULL AND role IS NULL AND taken_id IS NULL) OR (part_id IS NULL AND role IS NOT NULL AND taken_id IS NULL) OR (part_id IS NULL AND role IS NULL AND taken_id IS NOT NULL)), 
	CONSTRAINT fk_bill_line_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_bill_line_pattern_id_pattern FOREIGN KEY(pattern_id) REFERENCES pattern (id), 
	CONSTRAINT fk_bill_line_taken_id_pattern FOREIGN KEY(taken_id) REFERENCES pattern (id)
);
INSERT INTO "bill_line" VALUES(1,0,'finish',36,NULL,NULL,20,'barrel area','[]');
INSERT INTO "bill_line" VALUES(1,1,'finish',37,NULL,NULL,70,'barrel area','[]');
INSERT INTO "bill_line" VALUES(1,2,'finish',39,NULL,NULL,350,'barrel','[]');
INSERT INTO "bill_line" VALUES(1,3,'finish',39,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(1,4,'finish',46,NULL,NULL,200,'barrel','[]');
INSERT INTO "bill_line" VALUES(1,5,'finish',50,NULL,NULL,20,'piece','[]');
INSERT INTO "bill_line" VALUES(1,6,'finish',59,NULL,NULL,3000,'barrel','[]');
INSERT INTO "bill_line" VALUES(1,7,'finish',60,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(2,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(2,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(2,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(2,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(2,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(2,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(2,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(2,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(2,8,'turn',42,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(2,9,'turn',43,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(2,10,'turn',44,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(2,11,'turn',45,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(2,12,'finish',NULL,NULL,1,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(2,13,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(2,14,'assemble',NULL,'the refill',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(2,15,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(2,16,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(3,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(3,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(3,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(3,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(3,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(3,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(3,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(3,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(3,8,'turn',42,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(3,9,'turn',43,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(3,10,'turn',44,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(3,11,'turn',45,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(3,12,'finish',NULL,NULL,1,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(3,13,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(3,14,'assemble',NULL,'the refill',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(3,15,'pack',69,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(3,16,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(4,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(4,1,'glue',55,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(4,2,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(4,3,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(4,4,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(4,5,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(4,6,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(4,7,'turn',47,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(4,8,'turn',48,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(4,9,'turn',49,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(4,10,'finish',46,NULL,NULL,400,'barrel','[]');
INSERT INTO "bill_line" VALUES(4,11,'finish',50,NULL,NULL,30,'piece','[]');
INSERT INTO "bill_line" VALUES(4,12,'finish',53,NULL,NULL,100,'piece','[]');
INSERT INTO "bill_line" VALUES(4,13,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(4,14,'assemble',NULL,'the refill',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(4,15,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(4,16,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(5,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(5,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(5,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(5,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(5,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(5,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(5,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(5,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(5,8,'turn',42,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(5,9,'turn',43,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(5,10,'turn',44,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(5,11,'turn',45,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(5,12,'finish',52,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(5,13,'finish',51,NULL,NULL,30,'barrel area','[]');
INSERT INTO "bill_line" VALUES(5,14,'finish',51,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(5,15,'finish',53,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(5,16,'finish',59,NULL,NULL,2000,'barrel','[]');
INSERT INTO "bill_line" VALUES(5,17,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(5,18,'assemble',NULL,'the refill',NULL,3000,'piece','[]');
INSERT INTO "bill_line" VALUES(5,19,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(5,20,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(6,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(6,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(6,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(6,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(6,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(6,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(6,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(6,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(6,8,'turn',47,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(6,9,'turn',48,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(6,10,'turn',49,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(6,11,'finish',36,NULL,NULL,20,'barrel area','[]');
INSERT INTO "bill_line" VALUES(6,12,'finish',37,NULL,NULL,70,'barrel area','[]');
INSERT INTO "bill_line" VALUES(6,13,'finish',39,NULL,NULL,350,'barrel','[]');
INSERT INTO "bill_line" VALUES(6,14,'finish',39,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(6,15,'finish',46,NULL,NULL,200,'barrel','[]');
INSERT INTO "bill_line" VALUES(6,16,'finish',50,NULL,NULL,20,'piece','[]');
INSERT INTO "bill_line" VALUES(6,17,'finish',59,NULL,NULL,3000,'barrel','[]');
INSERT INTO "bill_line" VALUES(6,18,'finish',60,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(6,19,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(6,20,'assemble',NULL,'the refill',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(6,21,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(6,22,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(7,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(7,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(7,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(7,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(7,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(7,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(7,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(7,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(7,8,'turn',47,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(7,9,'turn',48,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(7,10,'turn',49,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(7,11,'finish',36,NULL,NULL,20,'barrel area','[]');
INSERT INTO "bill_line" VALUES(7,12,'finish',37,NULL,NULL,70,'barrel area','[]');
INSERT INTO "bill_line" VALUES(7,13,'finish',39,NULL,NULL,350,'barrel','[]');
INSERT INTO "bill_line" VALUES(7,14,'finish',39,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(7,15,'finish',46,NULL,NULL,200,'barrel','[]');
INSERT INTO "bill_line" VALUES(7,16,'finish',50,NULL,NULL,20,'piece','[]');
INSERT INTO "bill_line" VALUES(7,17,'finish',59,NULL,NULL,3000,'barrel','[]');
INSERT INTO "bill_line" VALUES(7,18,'finish',60,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(7,19,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(7,20,'assemble',NULL,'the refill',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(7,21,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(7,22,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(8,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(8,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(8,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(8,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(8,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(8,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(8,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(8,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(8,8,'turn',47,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(8,9,'turn',48,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(8,10,'turn',49,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(8,11,'finish',36,NULL,NULL,20,'barrel area','[]');
INSERT INTO "bill_line" VALUES(8,12,'finish',37,NULL,NULL,70,'barrel area','[]');
INSERT INTO "bill_line" VALUES(8,13,'finish',39,NULL,NULL,350,'barrel','[]');
INSERT INTO "bill_line" VALUES(8,14,'finish',39,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(8,15,'finish',46,NULL,NULL,200,'barrel','[]');
INSERT INTO "bill_line" VALUES(8,16,'finish',50,NULL,NULL,20,'piece','[]');
INSERT INTO "bill_line" VALUES(8,17,'finish',59,NULL,NULL,3000,'barrel','[]');
INSERT INTO "bill_line" VALUES(8,18,'finish',60,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(8,19,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(8,20,'assemble',NULL,'the refill',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(8,21,'pack',69,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(8,22,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(9,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(9,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(9,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(9,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(9,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(9,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(9,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(9,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(9,8,'turn',47,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(9,9,'turn',48,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(9,10,'turn',49,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(9,11,'finish',36,NULL,NULL,20,'barrel area','[]');
INSERT INTO "bill_line" VALUES(9,12,'finish',37,NULL,NULL,70,'barrel area','[]');
INSERT INTO "bill_line" VALUES(9,13,'finish',39,NULL,NULL,350,'barrel','[]');
INSERT INTO "bill_line" VALUES(9,14,'finish',39,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(9,15,'finish',46,NULL,NULL,200,'barrel','[]');
INSERT INTO "bill_line" VALUES(9,16,'finish',50,NULL,NULL,20,'piece','[]');
INSERT INTO "bill_line" VALUES(9,17,'finish',59,NULL,NULL,3000,'barrel','[]');
INSERT INTO "bill_line" VALUES(9,18,'finish',60,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(9,19,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(9,20,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(9,21,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(10,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(10,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(10,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(10,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(10,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(10,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(10,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(10,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(10,8,'turn',42,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(10,9,'turn',43,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(10,10,'turn',44,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(10,11,'turn',45,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(10,12,'finish',52,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(10,13,'finish',51,NULL,NULL,30,'barrel area','[]');
INSERT INTO "bill_line" VALUES(10,14,'finish',51,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(10,15,'finish',53,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(10,16,'finish',59,NULL,NULL,2000,'barrel','[]');
INSERT INTO "bill_line" VALUES(10,17,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(10,18,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(10,19,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(11,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(11,1,'turn',42,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(11,2,'turn',43,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(11,3,'turn',44,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(11,4,'turn',45,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(11,5,'finish',54,NULL,NULL,40,'barrel area','[]');
INSERT INTO "bill_line" VALUES(11,6,'finish',59,NULL,NULL,2000,'piece','[]');
INSERT INTO "bill_line" VALUES(11,7,'assemble',38,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(11,8,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(11,9,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(12,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(12,1,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(12,2,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(12,3,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(12,4,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(12,5,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(12,6,'turn',42,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(12,7,'turn',43,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(12,8,'turn',44,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(12,9,'turn',45,NULL,NULL,250,'piece','[]');
INSERT INTO "bill_line" VALUES(12,10,'finish',52,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(12,11,'finish',51,NULL,NULL,30,'barrel area','[]');
INSERT INTO "bill_line" VALUES(12,12,'finish',51,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(12,13,'finish',53,NULL,NULL,200,'piece','[]');
INSERT INTO "bill_line" VALUES(12,14,'finish',59,NULL,NULL,2000,'barrel','[]');
INSERT INTO "bill_line" VALUES(12,15,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(12,16,'pack',71,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(13,0,'cut',NULL,'the blank',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(13,1,'drill',57,NULL,NULL,500,'barrel','[]');
INSERT INTO "bill_line" VALUES(13,2,'drill',57,NULL,NULL,10000,'session','[]');
INSERT INTO "bill_line" VALUES(13,3,'glue',NULL,'the tubes',NULL,1000,'barrel','[]');
INSERT INTO "bill_line" VALUES(13,4,'glue',40,NULL,NULL,1400,'tube glue volume','[]');
INSERT INTO "bill_line" VALUES(13,5,'glue',40,NULL,NULL,250,'barrel','[]');
INSERT INTO "bill_line" VALUES(13,6,'glue',40,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(13,7,'glue',61,NULL,NULL,300,'barrel','[]');
INSERT INTO "bill_line" VALUES(13,8,'turn',47,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(13,9,'turn',48,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(13,10,'turn',49,NULL,NULL,70,'piece','[]');
INSERT INTO "bill_line" VALUES(13,11,'finish',36,NULL,NULL,20,'barrel area','[]');
INSERT INTO "bill_line" VALUES(13,12,'finish',37,NULL,NULL,70,'barrel area','[]');
INSERT INTO "bill_line" VALUES(13,13,'finish',39,NULL,NULL,350,'barrel','[]');
INSERT INTO "bill_line" VALUES(13,14,'finish',39,NULL,NULL,1000,'session','[]');
INSERT INTO "bill_line" VALUES(13,15,'finish',46,NULL,NULL,200,'barrel','[]');
INSERT INTO "bill_line" VALUES(13,16,'finish',50,NULL,NULL,20,'piece','[]');
INSERT INTO "bill_line" VALUES(13,17,'finish',59,NULL,NULL,3000,'barrel','[]');
INSERT INTO "bill_line" VALUES(13,18,'finish',60,NULL,NULL,2000,'session','[]');
INSERT INTO "bill_line" VALUES(13,19,'assemble',NULL,'the kit',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(13,20,'assemble',NULL,'the refill',NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(13,21,'pack',68,NULL,NULL,1000,'piece','[]');
INSERT INTO "bill_line" VALUES(13,22,'pack',71,NULL,NULL,1000,'piece','[]');
CREATE TABLE blank (
	part_id INTEGER NOT NULL, 
	material_id INTEGER NOT NULL, 
	shape VARCHAR NOT NULL, 
	width VARCHAR, 
	length VARCHAR, usual VARCHAR DEFAULT '[]' NOT NULL, 
	CONSTRAINT pk_blank PRIMARY KEY (part_id), 
	CONSTRAINT fk_blank_material_id_material FOREIGN KEY(material_id) REFERENCES material (id), 
	CONSTRAINT fk_blank_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "blank" VALUES(11,1,'square','3/4 in','5 in','[]');
INSERT INTO "blank" VALUES(12,2,'square','19 mm','127 mm','[]');
INSERT INTO "blank" VALUES(13,2,'square','25 mm','150 mm','[]');
INSERT INTO "blank" VALUES(14,3,'square','18 mm','130 mm','[]');
INSERT INTO "blank" VALUES(15,4,'square','3/4 in','5 in','[]');
INSERT INTO "blank" VALUES(16,5,'square','19 mm','127 mm','[]');
INSERT INTO "blank" VALUES(17,6,'square','1/2 in','5 in','[]');
INSERT INTO "blank" VALUES(18,7,'square','20 mm','140 mm','[]');
INSERT INTO "blank" VALUES(19,8,'square','19 mm','127 mm','[]');
INSERT INTO "blank" VALUES(20,9,'square','20 mm','130 mm','[]');
INSERT INTO "blank" VALUES(21,10,'square','19 mm','127 mm','[]');
INSERT INTO "blank" VALUES(22,11,'square','20 mm','125 mm','[]');
INSERT INTO "blank" VALUES(23,13,'square','19 mm','127 mm','[]');
INSERT INTO "blank" VALUES(24,13,'square','19 mm','127 mm','[]');
INSERT INTO "blank" VALUES(25,14,'round','19 mm','130 mm','[]');
INSERT INTO "blank" VALUES(26,14,'round','19 mm','130 mm','[]');
INSERT INTO "blank" VALUES(27,15,'round','20 mm','130 mm','[]');
INSERT INTO "blank" VALUES(28,16,'square','20 mm','127 mm','[]');
INSERT INTO "blank" VALUES(29,1,'square','38 mm','76 mm','[]');
INSERT INTO "blank" VALUES(30,9,'square','40 mm','80 mm','[]');
INSERT INTO "blank" VALUES(31,17,'natural',NULL,NULL,'[]');
INSERT INTO "blank" VALUES(32,18,'natural',NULL,NULL,'[]');
INSERT INTO "blank" VALUES(33,12,'natural',NULL,NULL,'[]');
INSERT INTO "blank" VALUES(34,9,'natural',NULL,NULL,'[]');
INSERT INTO "blank" VALUES(35,2,'square','18 mm','56 mm','[]');
CREATE TABLE changed_row (
	document_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	of_table VARCHAR NOT NULL, 
	row_key VARCHAR NOT NULL, 
	"before" VARCHAR, 
	"after" VARCHAR, 
	CONSTRAINT pk_changed_row PRIMARY KEY (document_id, position), 
	CONSTRAINT fk_changed_row_document_id_document FOREIGN KEY(document_id) REFERENCES document (id)
);
CREATE TABLE claim_balance (
	id INTEGER NOT NULL, 
	order_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	account VARCHAR NOT NULL, 
	lot_id INTEGER, 
	purchase_id INTEGER, 
	quantity BIGINT NOT NULL, 
	CONSTRAINT pk_claim_balance PRIMARY KEY (id), 
	CONSTRAINT ck_claim_balance_quantity CHECK (quantity > 0), 
	CONSTRAINT fk_claim_balance_lot_id_lot FOREIGN KEY(lot_id) REFERENCES lot (id), 
	CONSTRAINT fk_claim_balance_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_claim_balance_purchase_id_purchase FOREIGN KEY(purchase_id) REFERENCES purchase (id), 
	CONSTRAINT fk_claim_balance_order_id_customer_order FOREIGN KEY(order_id) REFERENCES customer_order (id)
);
INSERT INTO "claim_balance" VALUES(18,2,11,'claim',NULL,NULL,1000);
INSERT INTO "claim_balance" VALUES(19,2,57,'claim',NULL,NULL,17952);
INSERT INTO "claim_balance" VALUES(20,2,1,'claim',NULL,NULL,2000);
INSERT INTO "claim_balance" VALUES(22,2,40,'claim',NULL,NULL,2915);
INSERT INTO "claim_balance" VALUES(23,2,61,'claim',NULL,NULL,1754);
INSERT INTO "claim_balance" VALUES(24,2,42,'claim',NULL,NULL,318);
INSERT INTO "claim_balance" VALUES(25,2,43,'claim',NULL,NULL,730);
INSERT INTO "claim_balance" VALUES(26,2,44,'claim',NULL,NULL,730);
INSERT INTO "claim_balance" VALUES(27,2,45,'claim',NULL,NULL,730);
INSERT INTO "claim_balance" VALUES(29,2,36,'claim',NULL,NULL,1612);
INSERT INTO "claim_balance" VALUES(30,2,37,'claim',NULL,NULL,3871);
INSERT INTO "claim_balance" VALUES(31,2,39,'claim',NULL,NULL,4869);
INSERT INTO "claim_balance" VALUES(33,2,46,'claim',NULL,NULL,1153);
INSERT INTO "claim_balance" VALUES(34,2,50,'claim',NULL,NULL,58);
INSERT INTO "claim_balance" VALUES(35,2,59,'claim',NULL,NULL,17286);
INSERT INTO "claim_balance" VALUES(36,2,60,'claim',NULL,NULL,6978);
INSERT INTO "claim_balance" VALUES(37,2,111,'claim',NULL,NULL,1000);
INSERT INTO "claim_balance" VALUES(39,2,63,'claim',NULL,NULL,1000);
INSERT INTO "claim_balance" VALUES(40,2,68,'claim',NULL,NULL,1000);
INSERT INTO "claim_balance" VALUES(41,2,71,'claim',NULL,NULL,1000);
INSERT INTO "claim_balance" VALUES(100,2,136,'claim',NULL,NULL,5000);
CREATE TABLE customer_order (
	id INTEGER NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	pattern_id INTEGER NOT NULL, 
	blank_id INTEGER NOT NULL, 
	count INTEGER NOT NULL, 
	due DATE NOT NULL, 
	customer VARCHAR NOT NULL, 
	refill_id INTEGER, 
	extra_diameter VARCHAR, 
	price BIGINT, 
	state VARCHAR NOT NULL, blanks VARCHAR DEFAULT '' NOT NULL, 
	CONSTRAINT pk_customer_order PRIMARY KEY (id), 
	CONSTRAINT fk_customer_order_blank_id_part FOREIGN KEY(blank_id) REFERENCES part (id), 
	CONSTRAINT fk_customer_order_pattern_id_pattern FOREIGN KEY(pattern_id) REFERENCES pattern (id), 
	CONSTRAINT fk_customer_order_refill_id_part FOREIGN KEY(refill_id) REFERENCES part (id), 
	CONSTRAINT uq_customer_order_key UNIQUE ("key")
);
INSERT INTO "customer_order" VALUES(1,'s41','S41',10,31,2,'2026-12-12','sail loft',NULL,NULL,3200,'handed over','');
INSERT INTO "customer_order" VALUES(2,'s42','S42',2,11,6,'2026-12-14','harbour office',63,NULL,2400,'promised','');
INSERT INTO "customer_order" VALUES(3,'s43','S43',7,24,5,'2026-12-15','lifeboat crew',65,NULL,3600,'wish','');
INSERT INTO "customer_order" VALUES(4,'s44','S44',9,18,3,'2027-01-20','bell-ringers',NULL,NULL,4400,'wish','');
INSERT INTO "customer_order" VALUES(5,'s45','S45',8,23,1,'2026-12-18','ferry master''s retirement',NULL,NULL,9500,'wish','');
INSERT INTO "customer_order" VALUES(6,'s46','S46',8,16,1,'2026-12-20','replacement for a pen that cracked',NULL,'1.5 mm',NULL,'wish','');
INSERT INTO "customer_order" VALUES(7,'stall 2026-11-28 a','stall 2026-11-28 a',6,12,2,'2026-11-28','the stall',NULL,NULL,NULL,'made','');
CREATE TABLE document (
	id INTEGER NOT NULL, 
	kind VARCHAR NOT NULL, 
	title VARCHAR NOT NULL, 
	on_date DATE NOT NULL, 
	booked_at VARCHAR NOT NULL, 
	fingerprint VARCHAR NOT NULL, 
	reverses INTEGER, 
	undo_depth INTEGER NOT NULL, booked_by VARCHAR DEFAULT '' NOT NULL, 
	CONSTRAINT pk_document PRIMARY KEY (id), 
	CONSTRAINT fk_document_reverses_document FOREIGN KEY(reverses) REFERENCES document (id)
);
INSERT INTO "document" VALUES(1,'load','Load sample_stock','2026-11-28','2026-11-30T08:05:38+00:00','70df1cefa151dd80e270c5eaebd6aa3dcf7cd836d3f5290716eee53f59aa0b8d',NULL,0,'root');
INSERT INTO "document" VALUES(2,'promise','Promise S41','2026-11-28','2026-11-30T08:05:46+00:00','',NULL,0,'root');
INSERT INTO "document" VALUES(3,'hand-over','Hand over S41','2026-11-28','2026-11-30T08:05:48+00:00','',NULL,0,'root');
INSERT INTO "document" VALUES(4,'undo','Undo of 3: Hand over S41','2026-11-28','2026-11-30T08:05:49+00:00','',3,1,'root');
INSERT INTO "document" VALUES(5,'promise','Promise S42','2026-11-28','2026-11-30T08:05:50+00:00','',NULL,0,'root');
INSERT INTO "document" VALUES(6,'placed','Order from Saltmarsh Turning Supplies','2026-11-28','2026-11-30T08:05:53+00:00','37a572b40e402bc83ad2b75f4cb422d5d1e08c8778cd84d00393bbb16a33605f',NULL,0,'root');
INSERT INTO "document" VALUES(7,'arrival','Delivery from Saltmarsh Turning Supplies','2026-11-28','2026-11-30T08:05:55+00:00','ccd5d3ae3092fc34dc0939040a77b715b8ba96f54504653f61c5b2f815f73635',NULL,0,'root');
INSERT INTO "document" VALUES(8,'plan','Plan 2026-11-28','2026-11-28','2026-11-30T08:05:57+00:00','',NULL,0,'root');
INSERT INTO "document" VALUES(9,'weekend','Session of 2026-11-28','2026-11-28','2026-11-30T08:05:59+00:00','1bc1ad0563e60fe1c99c2104f0a0e15e5e5e59f8d6f3e2a8da1457fc49e5b416',NULL,0,'root');
INSERT INTO "document" VALUES(10,'undo','Undo of 9: Session of 2026-11-28','2026-11-28','2026-11-30T08:06:03+00:00','',9,1,'root');
INSERT INTO "document" VALUES(11,'weekend','Session of 2026-11-28','2026-11-28','2026-11-30T08:06:04+00:00','1bc1ad0563e60fe1c99c2104f0a0e15e5e5e59f8d6f3e2a8da1457fc49e5b416',NULL,0,'root');
INSERT INTO "document" VALUES(12,'hand-over','Hand over S41','2026-11-28','2026-11-30T08:06:05+00:00','',NULL,0,'root');
CREATE TABLE document_fingerprint (
	fingerprint VARCHAR NOT NULL, 
	document_id INTEGER NOT NULL, 
	CONSTRAINT pk_document_fingerprint PRIMARY KEY (fingerprint), 
	CONSTRAINT fk_document_fingerprint_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT uq_document_fingerprint_document_id UNIQUE (document_id)
);
INSERT INTO "document_fingerprint" VALUES('70df1cefa151dd80e270c5eaebd6aa3dcf7cd836d3f5290716eee53f59aa0b8d',1);
INSERT INTO "document_fingerprint" VALUES('37a572b40e402bc83ad2b75f4cb422d5d1e08c8778cd84d00393bbb16a33605f',6);
INSERT INTO "document_fingerprint" VALUES('ccd5d3ae3092fc34dc0939040a77b715b8ba96f54504653f61c5b2f815f73635',7);
INSERT INTO "document_fingerprint" VALUES('1bc1ad0563e60fe1c99c2104f0a0e15e5e5e59f8d6f3e2a8da1457fc49e5b416',11);
CREATE TABLE doubt (
	document_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	doubtful BOOLEAN NOT NULL, 
	CONSTRAINT pk_doubt PRIMARY KEY (document_id, part_id), 
	CONSTRAINT fk_doubt_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_doubt_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "doubt" VALUES(1,1,0);
INSERT INTO "doubt" VALUES(1,2,0);
INSERT INTO "doubt" VALUES(1,3,0);
INSERT INTO "doubt" VALUES(1,4,0);
INSERT INTO "doubt" VALUES(1,5,0);
INSERT INTO "doubt" VALUES(1,6,0);
INSERT INTO "doubt" VALUES(1,7,0);
INSERT INTO "doubt" VALUES(1,8,0);
INSERT INTO "doubt" VALUES(1,9,0);
INSERT INTO "doubt" VALUES(1,10,0);
INSERT INTO "doubt" VALUES(1,108,0);
INSERT INTO "doubt" VALUES(1,109,0);
INSERT INTO "doubt" VALUES(1,110,0);
INSERT INTO "doubt" VALUES(1,111,0);
INSERT INTO "doubt" VALUES(1,112,0);
INSERT INTO "doubt" VALUES(1,113,0);
INSERT INTO "doubt" VALUES(1,114,0);
INSERT INTO "doubt" VALUES(1,115,0);
INSERT INTO "doubt" VALUES(1,116,0);
INSERT INTO "doubt" VALUES(1,117,0);
INSERT INTO "doubt" VALUES(1,118,0);
INSERT INTO "doubt" VALUES(1,119,0);
INSERT INTO "doubt" VALUES(1,120,0);
INSERT INTO "doubt" VALUES(1,121,0);
INSERT INTO "doubt" VALUES(1,122,0);
INSERT INTO "doubt" VALUES(1,123,0);
INSERT INTO "doubt" VALUES(1,124,0);
INSERT INTO "doubt" VALUES(1,125,0);
INSERT INTO "doubt" VALUES(1,126,0);
INSERT INTO "doubt" VALUES(1,127,0);
INSERT INTO "doubt" VALUES(1,128,0);
INSERT INTO "doubt" VALUES(1,129,0);
INSERT INTO "doubt" VALUES(1,130,0);
INSERT INTO "doubt" VALUES(1,131,0);
INSERT INTO "doubt" VALUES(1,132,0);
INSERT INTO "doubt" VALUES(1,133,0);
INSERT INTO "doubt" VALUES(1,134,0);
INSERT INTO "doubt" VALUES(1,11,0);
INSERT INTO "doubt" VALUES(1,12,0);
INSERT INTO "doubt" VALUES(1,13,0);
INSERT INTO "doubt" VALUES(1,14,0);
INSERT INTO "doubt" VALUES(1,15,0);
INSERT INTO "doubt" VALUES(1,16,0);
INSERT INTO "doubt" VALUES(1,17,0);
INSERT INTO "doubt" VALUES(1,18,0);
INSERT INTO "doubt" VALUES(1,19,0);
INSERT INTO "doubt" VALUES(1,20,0);
INSERT INTO "doubt" VALUES(1,21,0);
INSERT INTO "doubt" VALUES(1,22,0);
INSERT INTO "doubt" VALUES(1,23,0);
INSERT INTO "doubt" VALUES(1,24,0);
INSERT INTO "doubt" VALUES(1,25,0);
INSERT INTO "doubt" VALUES(1,26,0);
INSERT INTO "doubt" VALUES(1,27,0);
INSERT INTO "doubt" VALUES(1,28,0);
INSERT INTO "doubt" VALUES(1,29,0);
INSERT INTO "doubt" VALUES(1,30,0);
INSERT INTO "doubt" VALUES(1,35,0);
INSERT INTO "doubt" VALUES(1,31,0);
INSERT INTO "doubt" VALUES(1,32,0);
INSERT INTO "doubt" VALUES(1,33,0);
INSERT INTO "doubt" VALUES(1,34,0);
INSERT INTO "doubt" VALUES(1,36,0);
INSERT INTO "doubt" VALUES(1,37,0);
INSERT INTO "doubt" VALUES(1,38,0);
INSERT INTO "doubt" VALUES(1,39,0);
INSERT INTO "doubt" VALUES(1,40,0);
INSERT INTO "doubt" VALUES(1,41,0);
INSERT INTO "doubt" VALUES(1,42,0);
INSERT INTO "doubt" VALUES(1,43,0);
INSERT INTO "doubt" VALUES(1,44,0);
INSERT INTO "doubt" VALUES(1,45,0);
INSERT INTO "doubt" VALUES(1,46,0);
INSERT INTO "doubt" VALUES(1,47,0);
INSERT INTO "doubt" VALUES(1,48,0);
INSERT INTO "doubt" VALUES(1,49,0);
INSERT INTO "doubt" VALUES(1,50,0);
INSERT INTO "doubt" VALUES(1,51,0);
INSERT INTO "doubt" VALUES(1,52,0);
INSERT INTO "doubt" VALUES(1,53,0);
INSERT INTO "doubt" VALUES(1,54,0);
INSERT INTO "doubt" VALUES(1,55,0);
INSERT INTO "doubt" VALUES(1,56,0);
INSERT INTO "doubt" VALUES(1,57,0);
INSERT INTO "doubt" VALUES(1,58,0);
INSERT INTO "doubt" VALUES(1,59,0);
INSERT INTO "doubt" VALUES(1,60,0);
INSERT INTO "doubt" VALUES(1,61,0);
INSERT INTO "doubt" VALUES(1,62,0);
INSERT INTO "doubt" VALUES(1,63,0);
INSERT INTO "doubt" VALUES(1,64,0);
INSERT INTO "doubt" VALUES(1,65,0);
INSERT INTO "doubt" VALUES(1,66,0);
INSERT INTO "doubt" VALUES(1,67,0);
INSERT INTO "doubt" VALUES(1,68,0);
INSERT INTO "doubt" VALUES(1,69,0);
INSERT INTO "doubt" VALUES(1,70,0);
INSERT INTO "doubt" VALUES(1,71,0);
INSERT INTO "doubt" VALUES(1,72,0);
INSERT INTO "doubt" VALUES(1,73,0);
INSERT INTO "doubt" VALUES(1,74,0);
INSERT INTO "doubt" VALUES(1,75,0);
INSERT INTO "doubt" VALUES(1,76,0);
INSERT INTO "doubt" VALUES(1,77,0);
INSERT INTO "doubt" VALUES(1,78,0);
INSERT INTO "doubt" VALUES(1,79,0);
INSERT INTO "doubt" VALUES(1,80,0);
INSERT INTO "doubt" VALUES(1,81,0);
INSERT INTO "doubt" VALUES(1,82,0);
INSERT INTO "doubt" VALUES(1,83,0);
INSERT INTO "doubt" VALUES(1,84,0);
INSERT INTO "doubt" VALUES(1,85,0);
INSERT INTO "doubt" VALUES(1,86,0);
INSERT INTO "doubt" VALUES(1,87,0);
INSERT INTO "doubt" VALUES(1,88,0);
INSERT INTO "doubt" VALUES(1,89,0);
INSERT INTO "doubt" VALUES(1,90,0);
INSERT INTO "doubt" VALUES(1,91,0);
INSERT INTO "doubt" VALUES(1,92,0);
INSERT INTO "doubt" VALUES(1,93,0);
INSERT INTO "doubt" VALUES(1,94,0);
INSERT INTO "doubt" VALUES(1,95,0);
INSERT INTO "doubt" VALUES(1,96,0);
INSERT INTO "doubt" VALUES(1,97,0);
INSERT INTO "doubt" VALUES(1,98,0);
INSERT INTO "doubt" VALUES(1,99,0);
INSERT INTO "doubt" VALUES(1,100,0);
INSERT INTO "doubt" VALUES(1,101,0);
INSERT INTO "doubt" VALUES(1,102,0);
INSERT INTO "doubt" VALUES(1,103,0);
INSERT INTO "doubt" VALUES(1,104,0);
INSERT INTO "doubt" VALUES(1,105,0);
INSERT INTO "doubt" VALUES(1,106,0);
INSERT INTO "doubt" VALUES(1,107,0);
INSERT INTO "doubt" VALUES(9,112,0);
INSERT INTO "doubt" VALUES(10,112,0);
INSERT INTO "doubt" VALUES(11,112,0);
CREATE TABLE due_balance (
	purchase_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	quantity BIGINT NOT NULL, 
	cost BIGINT NOT NULL, 
	claimed BIGINT NOT NULL, 
	CONSTRAINT pk_due_balance PRIMARY KEY (purchase_id), 
	CONSTRAINT ck_due_balance_claimed CHECK (claimed >= 0 AND claimed <= quantity), 
	CONSTRAINT ck_due_balance_layer CHECK (quantity >= 0 AND cost >= 0 AND (quantity > 0 OR cost = 0)), 
	CONSTRAINT fk_due_balance_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_due_balance_purchase_id_purchase FOREIGN KEY(purchase_id) REFERENCES purchase (id)
);
INSERT INTO "due_balance" VALUES(1,111,0,0,0);
INSERT INTO "due_balance" VALUES(2,39,0,0,0);
INSERT INTO "due_balance" VALUES(3,45,0,0,0);
INSERT INTO "due_balance" VALUES(4,1,0,0,0);
INSERT INTO "due_balance" VALUES(5,1,0,0,0);
INSERT INTO "due_balance" VALUES(6,38,0,0,0);
INSERT INTO "due_balance" VALUES(7,113,0,0,0);
INSERT INTO "due_balance" VALUES(8,83,0,0,0);
INSERT INTO "due_balance" VALUES(9,40,0,0,0);
INSERT INTO "due_balance" VALUES(10,65,0,0,0);
INSERT INTO "due_balance" VALUES(11,59,0,0,0);
INSERT INTO "due_balance" VALUES(12,102,0,0,0);
CREATE TABLE family (
	id INTEGER NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	makes VARCHAR NOT NULL, 
	refill_id INTEGER, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_family PRIMARY KEY (id), 
	CONSTRAINT fk_family_refill_id_part FOREIGN KEY(refill_id) REFERENCES part (id), 
	CONSTRAINT uq_family_key UNIQUE ("key")
);
INSERT INTO "family" VALUES(1,'dunlin','Dunlin','pen',62,'slim twist pen, two tubes alike');
INSERT INTO "family" VALUES(2,'turnstone','Turnstone','pencil',67,'its 7 mm tubes are 7 mm shorter than those of the Dunlin');
INSERT INTO "family" VALUES(3,'avocet','Avocet','pen',64,'click pen, one barrel');
INSERT INTO "family" VALUES(4,'sanderling','Sanderling','pen',64,'click pen, one barrel; looks like the Avocet, from another maker: other tube, other drill, other bushings');
INSERT INTO "family" VALUES(5,'curlew','Curlew','pen',66,'capped pen; cap and body want different drills');
INSERT INTO "family" VALUES(6,'whimbrel','Whimbrel','pen',NULL,'fat click pen; the leaflet does not name its refill: look into the pen before promising one');
INSERT INTO "family" VALUES(7,'godwit','Godwit','seam ripper',NULL,'');
INSERT INTO "family" VALUES(8,'redshank','Redshank','stopper',NULL,'turned on the stud, no tube');
INSERT INTO "family" VALUES(9,'lapwing','Lapwing','key ring',NULL,'the leaflet says 25/64');
INSERT INTO "family" VALUES(10,'greenshank','Greenshank','pen',64,'click pen, slimmer than the Avocet');
CREATE TABLE family_tool (
	family_id INTEGER NOT NULL, 
	duty VARCHAR NOT NULL, 
	position INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	CONSTRAINT pk_family_tool PRIMARY KEY (family_id, duty, position), 
	CONSTRAINT fk_family_tool_family_id_family FOREIGN KEY(family_id) REFERENCES family (id), 
	CONSTRAINT fk_family_tool_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "family_tool" VALUES(1,'bushings',0,86);
INSERT INTO "family_tool" VALUES(1,'trimmer pilot',0,95);
INSERT INTO "family_tool" VALUES(2,'bushings',0,86);
INSERT INTO "family_tool" VALUES(2,'trimmer pilot',0,95);
INSERT INTO "family_tool" VALUES(3,'bushings',0,87);
INSERT INTO "family_tool" VALUES(3,'trimmer pilot',0,99);
INSERT INTO "family_tool" VALUES(4,'bushings',0,88);
INSERT INTO "family_tool" VALUES(4,'trimmer pilot',0,100);
INSERT INTO "family_tool" VALUES(5,'bushings',0,89);
INSERT INTO "family_tool" VALUES(5,'bushings',1,90);
INSERT INTO "family_tool" VALUES(5,'trimmer pilot',0,101);
INSERT INTO "family_tool" VALUES(5,'trimmer pilot',1,100);
INSERT INTO "family_tool" VALUES(6,'bushings',0,91);
INSERT INTO "family_tool" VALUES(6,'trimmer pilot',0,102);
INSERT INTO "family_tool" VALUES(7,'bushings',0,92);
INSERT INTO "family_tool" VALUES(7,'trimmer pilot',0,96);
INSERT INTO "family_tool" VALUES(9,'bushings',0,93);
INSERT INTO "family_tool" VALUES(9,'trimmer pilot',0,98);
INSERT INTO "family_tool" VALUES(10,'bushings',0,94);
INSERT INTO "family_tool" VALUES(10,'trimmer pilot',0,97);
CREATE TABLE kit (
	part_id INTEGER NOT NULL, 
	family_id INTEGER NOT NULL, 
	plating_id INTEGER NOT NULL, 
	tubes_inside BOOLEAN NOT NULL, usual VARCHAR DEFAULT '[]' NOT NULL, 
	CONSTRAINT pk_kit PRIMARY KEY (part_id), 
	CONSTRAINT fk_kit_family_id_family FOREIGN KEY(family_id) REFERENCES family (id), 
	CONSTRAINT fk_kit_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_kit_plating_id_plating FOREIGN KEY(plating_id) REFERENCES plating (id)
);
INSERT INTO "kit" VALUES(108,1,1,0,'[]');
INSERT INTO "kit" VALUES(109,1,2,0,'[]');
INSERT INTO "kit" VALUES(110,1,3,0,'[]');
INSERT INTO "kit" VALUES(111,1,5,0,'[]');
INSERT INTO "kit" VALUES(112,1,6,0,'[]');
INSERT INTO "kit" VALUES(113,2,1,0,'[]');
INSERT INTO "kit" VALUES(114,2,3,0,'[]');
INSERT INTO "kit" VALUES(115,2,5,0,'[]');
INSERT INTO "kit" VALUES(116,3,1,0,'[]');
INSERT INTO "kit" VALUES(117,3,5,0,'[]');
INSERT INTO "kit" VALUES(118,3,3,0,'[]');
INSERT INTO "kit" VALUES(119,4,2,1,'[]');
INSERT INTO "kit" VALUES(120,4,5,1,'[]');
INSERT INTO "kit" VALUES(121,5,1,1,'[]');
INSERT INTO "kit" VALUES(122,5,6,1,'[]');
INSERT INTO "kit" VALUES(123,5,4,1,'[]');
INSERT INTO "kit" VALUES(124,6,1,1,'[]');
INSERT INTO "kit" VALUES(125,6,5,1,'[]');
INSERT INTO "kit" VALUES(126,6,7,1,'[]');
INSERT INTO "kit" VALUES(127,7,1,0,'[]');
INSERT INTO "kit" VALUES(128,7,3,0,'[]');
INSERT INTO "kit" VALUES(129,8,1,0,'[]');
INSERT INTO "kit" VALUES(130,8,5,0,'[]');
INSERT INTO "kit" VALUES(131,9,1,0,'[]');
INSERT INTO "kit" VALUES(132,9,5,0,'[]');
INSERT INTO "kit" VALUES(133,10,1,0,'[]');
INSERT INTO "kit" VALUES(134,10,5,0,'[]');
CREATE TABLE learned_loss (
	material_id INTEGER NOT NULL, 
	stage VARCHAR NOT NULL, 
	share BIGINT NOT NULL, 
	reached INTEGER NOT NULL, 
	lost INTEGER NOT NULL, worth BIGINT DEFAULT '0' NOT NULL, 
	CONSTRAINT pk_learned_loss PRIMARY KEY (material_id, stage), 
	CONSTRAINT fk_learned_loss_material_id_material FOREIGN KEY(material_id) REFERENCES material (id)
);
INSERT INTO "learned_loss" VALUES(1,'cut',2545,7,0,57121);
INSERT INTO "learned_loss" VALUES(1,'drill',4639,7,0,50944);
INSERT INTO "learned_loss" VALUES(1,'glue',2545,7,0,57121);
INSERT INTO "learned_loss" VALUES(1,'trim',1686,7,0,60110);
INSERT INTO "learned_loss" VALUES(1,'turn',34045,7,1,53782);
INSERT INTO "learned_loss" VALUES(1,'finish',2589,6,0,56248);
INSERT INTO "learned_loss" VALUES(1,'assemble',38929,6,1,44289);
INSERT INTO "learned_loss" VALUES(2,'cut',2750,2,0,52846);
INSERT INTO "learned_loss" VALUES(2,'drill',5013,2,0,47121);
INSERT INTO "learned_loss" VALUES(2,'glue',2750,2,0,52846);
INSERT INTO "learned_loss" VALUES(2,'trim',1822,2,0,55616);
INSERT INTO "learned_loss" VALUES(2,'turn',20662,2,0,43249);
INSERT INTO "learned_loss" VALUES(2,'finish',2756,2,0,52828);
INSERT INTO "learned_loss" VALUES(2,'assemble',25311,2,0,34515);
INSERT INTO "learned_loss" VALUES(3,'cut',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(3,'drill',5180,0,0,45591);
INSERT INTO "learned_loss" VALUES(3,'glue',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(3,'trim',1883,0,0,53818);
INSERT INTO "learned_loss" VALUES(3,'turn',21351,0,0,41835);
INSERT INTO "learned_loss" VALUES(3,'finish',2848,0,0,51119);
INSERT INTO "learned_loss" VALUES(3,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(4,'cut',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(4,'drill',5180,0,0,45591);
INSERT INTO "learned_loss" VALUES(4,'glue',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(4,'trim',1883,0,0,53818);
INSERT INTO "learned_loss" VALUES(4,'turn',21351,0,0,41835);
INSERT INTO "learned_loss" VALUES(4,'finish',2848,0,0,51119);
INSERT INTO "learned_loss" VALUES(4,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(5,'cut',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(5,'drill',5180,0,0,45591);
INSERT INTO "learned_loss" VALUES(5,'glue',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(5,'trim',1883,0,0,53818);
INSERT INTO "learned_loss" VALUES(5,'turn',21351,0,0,41835);
INSERT INTO "learned_loss" VALUES(5,'finish',2848,0,0,51119);
INSERT INTO "learned_loss" VALUES(5,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(6,'cut',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(6,'drill',5180,0,0,45591);
INSERT INTO "learned_loss" VALUES(6,'glue',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(6,'trim',1883,0,0,53818);
INSERT INTO "learned_loss" VALUES(6,'turn',21351,0,0,41835);
INSERT INTO "learned_loss" VALUES(6,'finish',2848,0,0,51119);
INSERT INTO "learned_loss" VALUES(6,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(7,'cut',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(7,'drill',5180,0,0,45591);
INSERT INTO "learned_loss" VALUES(7,'glue',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(7,'trim',1883,0,0,53818);
INSERT INTO "learned_loss" VALUES(7,'turn',21351,0,0,41835);
INSERT INTO "learned_loss" VALUES(7,'finish',2848,0,0,51119);
INSERT INTO "learned_loss" VALUES(7,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(8,'cut',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(8,'drill',5180,0,0,45591);
INSERT INTO "learned_loss" VALUES(8,'glue',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(8,'trim',1883,0,0,53818);
INSERT INTO "learned_loss" VALUES(8,'turn',21351,0,0,41835);
INSERT INTO "learned_loss" VALUES(8,'finish',2848,0,0,51119);
INSERT INTO "learned_loss" VALUES(8,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(9,'cut',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(9,'drill',25988,0,0,23207);
INSERT INTO "learned_loss" VALUES(9,'glue',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(9,'trim',14133,0,0,32221);
INSERT INTO "learned_loss" VALUES(9,'turn',78670,0,0,23084);
INSERT INTO "learned_loss" VALUES(9,'finish',9497,0,0,37991);
INSERT INTO "learned_loss" VALUES(9,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(10,'cut',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(10,'drill',25988,0,0,23207);
INSERT INTO "learned_loss" VALUES(10,'glue',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(10,'trim',14133,0,0,32221);
INSERT INTO "learned_loss" VALUES(10,'turn',78670,0,0,23084);
INSERT INTO "learned_loss" VALUES(10,'finish',9497,0,0,37991);
INSERT INTO "learned_loss" VALUES(10,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(11,'cut',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(11,'drill',25988,0,0,23207);
INSERT INTO "learned_loss" VALUES(11,'glue',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(11,'trim',14133,0,0,32221);
INSERT INTO "learned_loss" VALUES(11,'turn',78670,0,0,23084);
INSERT INTO "learned_loss" VALUES(11,'finish',9497,0,0,37991);
INSERT INTO "learned_loss" VALUES(11,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(12,'cut',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(12,'drill',25988,0,0,23207);
INSERT INTO "learned_loss" VALUES(12,'glue',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(12,'trim',14133,0,0,32221);
INSERT INTO "learned_loss" VALUES(12,'turn',78670,0,0,23084);
INSERT INTO "learned_loss" VALUES(12,'finish',9497,0,0,37991);
INSERT INTO "learned_loss" VALUES(12,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(13,'cut',1894,0,0,53785);
INSERT INTO "learned_loss" VALUES(13,'drill',5180,0,0,45591);
INSERT INTO "learned_loss" VALUES(13,'glue',2842,0,0,51136);
INSERT INTO "learned_loss" VALUES(13,'trim',3766,0,0,48790);
INSERT INTO "learned_loss" VALUES(13,'turn',21351,0,0,41835);
INSERT INTO "learned_loss" VALUES(13,'finish',1899,0,0,53772);
INSERT INTO "learned_loss" VALUES(13,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(14,'cut',4737,0,0,46550);
INSERT INTO "learned_loss" VALUES(14,'drill',12967,0,0,33499);
INSERT INTO "learned_loss" VALUES(14,'glue',4737,0,0,46550);
INSERT INTO "learned_loss" VALUES(14,'trim',7535,0,0,41107);
INSERT INTO "learned_loss" VALUES(14,'turn',26646,0,0,38913);
INSERT INTO "learned_loss" VALUES(14,'finish',1899,0,0,53772);
INSERT INTO "learned_loss" VALUES(14,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(15,'cut',4737,0,0,46550);
INSERT INTO "learned_loss" VALUES(15,'drill',17301,0,0,29190);
INSERT INTO "learned_loss" VALUES(15,'glue',4737,0,0,46550);
INSERT INTO "learned_loss" VALUES(15,'trim',18850,0,0,27909);
INSERT INTO "learned_loss" VALUES(15,'turn',78670,0,0,23084);
INSERT INTO "learned_loss" VALUES(15,'finish',4747,0,0,46527);
INSERT INTO "learned_loss" VALUES(15,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(16,'cut',4737,0,0,46550);
INSERT INTO "learned_loss" VALUES(16,'drill',17301,0,0,29190);
INSERT INTO "learned_loss" VALUES(16,'glue',4737,0,0,46550);
INSERT INTO "learned_loss" VALUES(16,'trim',18850,0,0,27909);
INSERT INTO "learned_loss" VALUES(16,'turn',78670,0,0,23084);
INSERT INTO "learned_loss" VALUES(16,'finish',4747,0,0,46527);
INSERT INTO "learned_loss" VALUES(16,'assemble',26155,0,0,33374);
INSERT INTO "learned_loss" VALUES(17,'cut',9025,3,0,39947);
INSERT INTO "learned_loss" VALUES(17,'drill',28895,3,0,22152);
INSERT INTO "learned_loss" VALUES(17,'glue',9025,3,0,39947);
INSERT INTO "learned_loss" VALUES(17,'trim',13460,3,0,33866);
INSERT INTO "learned_loss" VALUES(17,'turn',66224,3,1,34530);
INSERT INTO "learned_loss" VALUES(17,'finish',13789,2,0,33192);
INSERT INTO "learned_loss" VALUES(17,'assemble',25311,2,0,34515);
INSERT INTO "learned_loss" VALUES(18,'cut',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(18,'drill',30340,0,0,21046);
INSERT INTO "learned_loss" VALUES(18,'glue',9476,0,0,38022);
INSERT INTO "learned_loss" VALUES(18,'trim',14133,0,0,32221);
INSERT INTO "learned_loss" VALUES(18,'turn',52869,0,0,28916);
INSERT INTO "learned_loss" VALUES(18,'finish',14249,0,0,32099);
INSERT INTO "learned_loss" VALUES(18,'assemble',26155,0,0,33374);
CREATE TABLE learned_rate (
	part_id INTEGER NOT NULL, 
	per VARCHAR NOT NULL, 
	factor BIGINT NOT NULL, 
	low BIGINT NOT NULL, 
	high BIGINT NOT NULL, 
	sessions INTEGER NOT NULL, 
	outliers VARCHAR NOT NULL, 
	pinned BOOLEAN NOT NULL, 
	scatter BIGINT NOT NULL, points VARCHAR DEFAULT '[]' NOT NULL, hands VARCHAR DEFAULT '[]' NOT NULL, ordinary BIGINT DEFAULT '0' NOT NULL, 
	CONSTRAINT pk_learned_rate PRIMARY KEY (part_id, per), 
	CONSTRAINT fk_learned_rate_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "learned_rate" VALUES(37,'barrel area',1242620,613210,1768846,1,'[]',0,7821,'["623409", "735850", "804114", "881468", "915458", "963472", "994189", "1022617", "1049446", "1075168", "1100162", "1124742", "1149187", "1173766", "1188599", "1206763", "1224482", "1250702", "1267562", "1284707", "1304293", "1320754", "1344507", "1372944", "1386963", "1423431", "1446005", "1495864", "1558376", "1617621", "1740133", "2120714"]','["-1595569", "697060", "1237003", "1128449", "-288930", "-532379", "515930", "501587", "488764", "477071", "-466233", "456044", "446343", "-436997", "836860", "113026", "418897", "211484", "-208671", "205886", "202794", "200267", "381502", "192654", "-98342", "-1355129", "354724", "-342900", "169730", "-614910", "152002", "241868"]',14730);
INSERT INTO "learned_rate" VALUES(57,'barrel',983407,378340,1602005,1,'[]',0,7087,'["746754", "749841", "676228", "1380441", "1164246", "786341", "1025276", "725080", "1000981", "1244895", "729193", "1767470", "947795", "954864", "1123096", "1011174", "1077071", "1021115", "1223366", "1321195", "1163403", "1094165", "1243910", "1269936", "932989", "615580", "1631630", "1201151", "1420507", "1435291", "532308", "1094998"]','["683746", "278832", "508276", "913597", "-463932", "454061", "-224437", "425102", "808070", "410732", "209394", "105269", "-390482", "753200", "-101676", "193800", "-99179", "367097", "186747", "-355029", "678983", "178826", "340967", "172179", "327068", "324391", "-316119", "-596098", "-569238", "1066120", "271494", "454338"]',19500);
INSERT INTO "learned_rate" VALUES(57,'session',945941,239327,1655735,1,'[]',0,7087,'["330435", "602557", "756417", "197758", "426505", "818832", "659575", "983699", "755330", "548392", "1058216", "116912", "920405", "923441", "792526", "931219", "883068", "966744", "801092", "747502", "925420", "1010786", "903511", "922953", "1287503", "1606981", "699085", "1171913", "1072667", "1144413", "2113129", "1994448"]','["683746", "278832", "508276", "913597", "-463932", "454061", "-224437", "425102", "808070", "410732", "209394", "105269", "-390482", "753200", "-101676", "193800", "-99179", "367097", "186747", "-355029", "678983", "178826", "340967", "172179", "327068", "324391", "-316119", "-596098", "-569238", "1066120", "271494", "454338"]',19500);
INSERT INTO "learned_rate" VALUES(42,'piece',1006185,570441,1467881,1,'[]',0,780,'["529597", "657100", "676407", "741398", "771140", "807456", "837606", "850649", "873255", "894050", "917715", "934495", "955531", "965858", "988661", "1007464", "1013934", "1034143", "1057331", "1070332", "1082285", "1106084", "1130120", "1149351", "1171924", "1193241", "1228861", "1258268", "1294201", "1342900", "1442072", "1626399"]','["724980", "-301309", "567628", "-1947502", "497896", "-475502", "888916", "232752", "116916", "114196", "215742", "56339", "-207204", "397519", "-388351", "101341", "734329", "371271", "-363129", "695636", "182937", "-347123", "-658834", "172262", "87119", "165926", "-312442", "157351", "575306", "147435", "266247", "236072"]',2000);
INSERT INTO "learned_rate" VALUES(40,'tube glue volume',1035188,391172,1679218,1,'[]',0,3555,'["608194", "1019505", "560741", "920152", "562243", "844201", "1121116", "751943", "785843", "1135530", "1127893", "1242530", "982018", "999299", "692175", "710455", "1095620", "1287957", "956026", "1034538", "1059065", "1113682", "985019", "1234031", "1159464", "1098994", "1192079", "1310425", "1264538", "1445220", "1654619", "3064794"]','["-589967", "-524267", "958497", "472632", "464393", "233115", "-228077", "-224120", "219624", "418666", "109859", "792857", "1521079", "206060", "395785", "103939", "-384401", "1435290", "194398", "373265", "-98119", "188785", "186568", "357018", "181327", "176357", "174104", "-169099", "620968", "304479", "287765", "446231"]',9191);
INSERT INTO "learned_rate" VALUES(40,'barrel',1044597,439714,1594050,1,'[]',0,3555,'["693174", "474909", "890539", "818391", "1135798", "886444", "707109", "1063834", "1197120", "894677", "795963", "922998", "1211341", "906901", "1346057", "1268675", "1055757", "938934", "1193703", "1039147", "1060922", "915175", "1195852", "1088062", "1223049", "1211089", "1230467", "1262386", "1390702", "1459644", "1449147", "599548"]','["-589967", "-524267", "958497", "472632", "464393", "233115", "-228077", "-224120", "219624", "418666", "109859", "792857", "1521079", "206060", "395785", "103939", "-384401", "1435290", "194398", "373265", "-98119", "188785", "186568", "357018", "181327", "176357", "174104", "-169099", "620968", "304479", "287765", "446231"]',9191);
INSERT INTO "learned_rate" VALUES(40,'session',1026634,64827,2009922,1,'[]',0,3555,'["932184", "1345487", "1381109", "832424", "696035", "1129280", "1210501", "934995", "360767", "745507", "1359834", "456531", "81788", "1580940", "641465", "1064484", "911220", "873885", "927059", "1489511", "1417499", "2001573", "1232016", "1025190", "800359", "1363956", "1092629", "860578", "682533", "334901", "375270", "2804375"]','["-589967", "-524267", "958497", "472632", "464393", "233115", "-228077", "-224120", "219624", "418666", "109859", "792857", "1521079", "206060", "395785", "103939", "-384401", "1435290", "194398", "373265", "-98119", "188785", "186568", "357018", "181327", "176357", "174104", "-169099", "620968", "304479", "287765", "446231"]',9191);
CREATE TABLE lot (
	id INTEGER NOT NULL, 
	document_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	received_on DATE, 
	opened_on DATE, 
	use_by DATE, 
	smallest_diameter VARCHAR, 
	length VARCHAR, 
	CONSTRAINT pk_lot PRIMARY KEY (id), 
	CONSTRAINT fk_lot_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_lot_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "lot" VALUES(1,1,1,'','2026-03-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(2,1,2,'','2025-03-14',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(3,1,3,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(4,1,4,'','2026-07-03',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(5,1,5,'','2024-02-12',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(6,1,6,'','2026-05-09',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(7,1,7,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(8,1,8,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(9,1,9,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(10,1,10,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(11,1,108,'spring','2026-03-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(12,1,108,'autumn','2026-09-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(13,1,109,'','2026-03-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(14,1,110,'','2026-03-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(15,1,111,'','2026-03-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(16,1,112,'','2026-09-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(17,1,114,'','2025-03-14',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(18,1,115,'','2025-10-02',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(19,1,116,'','2026-05-09',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(20,1,117,'','2026-05-09',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(21,1,118,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(22,1,119,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(23,1,121,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(24,1,122,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(25,1,123,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(26,1,124,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(27,1,125,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(28,1,126,'','2024-11-08',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(29,1,127,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(30,1,128,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(31,1,129,'','2025-09-26',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(32,1,130,'','2025-09-26',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(33,1,131,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(34,1,132,'','2024-02-12',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(35,1,133,'','2026-07-03',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(36,1,134,'','2026-07-03',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(37,1,11,'2025','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(38,1,11,'2026','2026-08-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(39,1,12,'2025','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(40,1,12,'2026','2026-08-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(41,1,13,'','2026-08-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(42,1,14,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(43,1,15,'2025','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(44,1,15,'2026','2026-08-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(45,1,16,'pit A','2024-10-18',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(46,1,16,'pit B','2026-02-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(47,1,17,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(48,1,18,'','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(49,1,19,'document 2024-0117','2024-06-14',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(50,1,20,'tree 1','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(51,1,20,'tree 2','2026-08-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(52,1,21,'','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(53,1,22,'','2024-06-14',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(54,1,23,'2025','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(55,1,23,'2026','2026-08-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(56,1,24,'','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(57,1,25,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(58,1,26,'2025','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(59,1,26,'2026','2026-08-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(60,1,27,'','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(61,1,28,'','2026-02-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(62,1,29,'','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(63,1,30,'','2025-10-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(64,1,35,'','2026-10-03',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(65,1,31,'antler A','2025-10-30',NULL,NULL,'16.2 mm','92 mm');
INSERT INTO "lot" VALUES(66,1,31,'antler B','2025-10-30',NULL,NULL,'17.8 mm','131 mm');
INSERT INTO "lot" VALUES(67,1,31,'antler C','2025-10-30',NULL,NULL,'13.6 mm','118 mm');
INSERT INTO "lot" VALUES(68,1,31,'antler D','2026-02-06',NULL,NULL,'19.5 mm','74 mm');
INSERT INTO "lot" VALUES(69,1,31,'antler E','2026-02-06',NULL,NULL,'21 mm','148 mm');
INSERT INTO "lot" VALUES(70,1,31,'antler F','2026-02-06',NULL,NULL,'15.1 mm','66 mm');
INSERT INTO "lot" VALUES(71,1,31,'antler G','2026-02-06',NULL,NULL,'18.4 mm','58 mm');
INSERT INTO "lot" VALUES(72,1,32,'horn A','2025-10-30',NULL,NULL,'22 mm','140 mm');
INSERT INTO "lot" VALUES(73,1,32,'horn B','2025-10-30',NULL,NULL,'18 mm','84 mm');
INSERT INTO "lot" VALUES(74,1,32,'horn C','2025-10-30',NULL,NULL,'13.2 mm','110 mm');
INSERT INTO "lot" VALUES(75,1,33,'root A','2026-02-06',NULL,NULL,'20.5 mm','76 mm');
INSERT INTO "lot" VALUES(76,1,33,'root B','2026-02-06',NULL,NULL,'24 mm','121 mm');
INSERT INTO "lot" VALUES(77,1,33,'root C','2026-02-06',NULL,NULL,'17 mm','61 mm');
INSERT INTO "lot" VALUES(78,1,34,'offcut A','2026-08-21',NULL,NULL,'23 mm','69 mm');
INSERT INTO "lot" VALUES(79,1,34,'offcut B','2026-08-21',NULL,NULL,'31/32 in','5-1/4 in');
INSERT INTO "lot" VALUES(80,1,36,'opened','2026-01-16','2026-06-02','2026-08-31',NULL,NULL);
INSERT INTO "lot" VALUES(81,1,36,'sealed','2026-10-09',NULL,'2027-08-05',NULL,NULL);
INSERT INTO "lot" VALUES(82,1,37,'opened','2026-08-14','2026-11-01','2027-01-30',NULL,NULL);
INSERT INTO "lot" VALUES(83,1,37,'sealed','2026-10-09',NULL,'2027-08-05',NULL,NULL);
INSERT INTO "lot" VALUES(84,1,38,'opened','2026-03-20','2026-10-18','2027-01-14',NULL,NULL);
INSERT INTO "lot" VALUES(85,1,39,'opened','2025-11-14','2026-01-10','2027-07-04',NULL,NULL);
INSERT INTO "lot" VALUES(86,1,40,'opened','2026-09-04','2026-10-03','2027-09-03',NULL,NULL);
INSERT INTO "lot" VALUES(87,1,41,'opened','2026-04-10','2026-09-12','2027-02-04',NULL,NULL);
INSERT INTO "lot" VALUES(88,1,42,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(89,1,43,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(90,1,44,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(91,1,45,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(92,1,46,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(93,1,47,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(94,1,48,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(95,1,49,'','2026-05-22',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(96,1,50,'','2026-01-16',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(97,1,51,'opened','2026-01-16','2026-02-14','2028-02-14',NULL,NULL);
INSERT INTO "lot" VALUES(98,1,52,'opened','2026-01-16','2026-03-28','2027-03-28',NULL,NULL);
INSERT INTO "lot" VALUES(99,1,53,'opened','2025-06-13','2025-07-05','2028-07-04',NULL,NULL);
INSERT INTO "lot" VALUES(100,1,54,'opened','2026-06-19','2026-09-20','2027-03-19',NULL,NULL);
INSERT INTO "lot" VALUES(101,1,55,'opened','2026-02-06','2026-03-07','2027-03-07',NULL,NULL);
INSERT INTO "lot" VALUES(102,1,56,'opened','2026-02-06','2026-05-16','2027-05-16',NULL,NULL);
INSERT INTO "lot" VALUES(103,1,57,'opened','2026-01-16','2026-02-14','2029-02-13',NULL,NULL);
INSERT INTO "lot" VALUES(104,1,58,'opened','2025-06-13','2025-08-02','2028-08-01',NULL,NULL);
INSERT INTO "lot" VALUES(105,1,59,'','2026-09-04',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(106,1,60,'','2026-09-04',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(107,1,61,'','2025-06-13',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(108,1,62,'','2026-03-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(109,1,63,'','2026-03-06',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(110,1,64,'','2026-05-09',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(111,1,65,'','2026-05-09',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(112,1,66,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(113,1,67,'','2025-03-14',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(114,1,68,'','2026-09-04',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(115,1,69,'','2026-09-04',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(116,1,70,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(117,1,71,'','2026-09-04',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(118,1,72,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(119,1,73,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(120,1,74,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(121,1,75,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(122,1,76,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(123,1,77,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(124,1,78,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(125,1,79,'','2026-07-03',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(126,1,80,'','2024-02-12',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(127,1,81,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(128,1,82,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(129,1,84,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(130,1,85,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(131,1,86,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(132,1,87,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(133,1,88,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(134,1,89,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(135,1,90,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(136,1,91,'','2026-06-30',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(137,1,92,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(138,1,93,'','2024-02-12',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(139,1,95,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(140,1,96,'','2026-02-20',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(141,1,97,'','2026-07-03',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(142,1,98,'','2024-02-12',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(143,1,99,'','2025-11-21',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(144,1,100,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(145,1,101,'','2026-04-17',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(146,1,103,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(147,1,104,'','2026-01-16',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(148,1,105,'','2025-04-11',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(149,1,106,'','2025-09-26',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(150,1,107,'','2026-01-16',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(151,3,61,'','2025-06-13','2026-11-28',NULL,NULL,NULL);
INSERT INTO "lot" VALUES(152,7,111,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(153,7,39,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(154,7,45,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(155,7,1,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(156,7,38,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(157,7,113,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(158,7,83,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(159,7,40,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(160,7,65,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(161,7,59,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(162,7,102,'','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(163,9,61,'','2025-06-13','2026-11-28',NULL,NULL,NULL);
INSERT INTO "lot" VALUES(164,9,135,'2026-11-28','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(165,9,36,'sealed','2026-10-09','2026-11-28','2027-08-05',NULL,NULL);
INSERT INTO "lot" VALUES(166,9,136,'2026-11-28','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(167,9,137,'saved','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(168,9,138,'2026-11-28','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(169,11,61,'','2025-06-13','2026-11-28',NULL,NULL,NULL);
INSERT INTO "lot" VALUES(170,11,135,'2026-11-28','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(171,11,36,'sealed','2026-10-09','2026-11-28','2027-08-05',NULL,NULL);
INSERT INTO "lot" VALUES(172,11,136,'2026-11-28','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(173,11,137,'saved','2026-11-28',NULL,NULL,NULL,NULL);
INSERT INTO "lot" VALUES(174,11,138,'2026-11-28','2026-11-28',NULL,NULL,NULL,NULL);
CREATE TABLE lot_balance (
	lot_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	quantity BIGINT NOT NULL, 
	cost BIGINT NOT NULL, 
	claimed BIGINT NOT NULL, cost_from INTEGER DEFAULT '0' NOT NULL, 
	CONSTRAINT pk_lot_balance PRIMARY KEY (lot_id), 
	CONSTRAINT ck_lot_balance_claimed CHECK (claimed >= 0 AND claimed <= quantity), 
	CONSTRAINT ck_lot_balance_layer CHECK (quantity >= 0 AND cost >= 0 AND (quantity > 0 OR cost = 0)), 
	CONSTRAINT fk_lot_balance_lot_id_lot FOREIGN KEY(lot_id) REFERENCES lot (id), 
	CONSTRAINT fk_lot_balance_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "lot_balance" VALUES(1,1,0,0,0,0);
INSERT INTO "lot_balance" VALUES(2,2,44000,1672,0,0);
INSERT INTO "lot_balance" VALUES(3,3,19000,760,0,0);
INSERT INTO "lot_balance" VALUES(4,4,6000,264,0,0);
INSERT INTO "lot_balance" VALUES(5,5,18000,756,0,0);
INSERT INTO "lot_balance" VALUES(6,6,14000,644,0,0);
INSERT INTO "lot_balance" VALUES(7,7,3000,156,0,0);
INSERT INTO "lot_balance" VALUES(8,8,6000,312,0,0);
INSERT INTO "lot_balance" VALUES(9,9,6000,348,0,0);
INSERT INTO "lot_balance" VALUES(10,10,2000,120,0,0);
INSERT INTO "lot_balance" VALUES(11,108,4000,1360,0,0);
INSERT INTO "lot_balance" VALUES(12,108,5000,1775,0,0);
INSERT INTO "lot_balance" VALUES(13,109,3000,1380,0,0);
INSERT INTO "lot_balance" VALUES(14,110,5000,1900,0,0);
INSERT INTO "lot_balance" VALUES(15,111,0,0,0,0);
INSERT INTO "lot_balance" VALUES(16,112,11000,4840,0,0);
INSERT INTO "lot_balance" VALUES(17,114,14000,6020,0,0);
INSERT INTO "lot_balance" VALUES(18,115,2000,840,0,0);
INSERT INTO "lot_balance" VALUES(19,116,3000,2160,0,0);
INSERT INTO "lot_balance" VALUES(20,117,2000,1520,0,0);
INSERT INTO "lot_balance" VALUES(21,118,2000,1480,0,0);
INSERT INTO "lot_balance" VALUES(22,119,2000,1620,0,0);
INSERT INTO "lot_balance" VALUES(23,121,2000,2780,0,0);
INSERT INTO "lot_balance" VALUES(24,122,1000,1640,0,0);
INSERT INTO "lot_balance" VALUES(25,123,1000,1560,0,0);
INSERT INTO "lot_balance" VALUES(26,124,2000,1960,0,0);
INSERT INTO "lot_balance" VALUES(27,125,1000,1010,0,0);
INSERT INTO "lot_balance" VALUES(28,126,1000,990,0,0);
INSERT INTO "lot_balance" VALUES(29,127,6000,2880,0,0);
INSERT INTO "lot_balance" VALUES(30,128,3000,1500,0,0);
INSERT INTO "lot_balance" VALUES(31,129,1000,510,0,0);
INSERT INTO "lot_balance" VALUES(32,130,2000,1060,0,0);
INSERT INTO "lot_balance" VALUES(33,131,2000,820,0,0);
INSERT INTO "lot_balance" VALUES(34,132,10000,4250,0,0);
INSERT INTO "lot_balance" VALUES(35,133,4000,2520,0,0);
INSERT INTO "lot_balance" VALUES(36,134,2000,1300,0,0);
INSERT INTO "lot_balance" VALUES(37,11,0,0,0,0);
INSERT INTO "lot_balance" VALUES(38,11,6000,1050,0,0);
INSERT INTO "lot_balance" VALUES(39,12,5000,1150,0,0);
INSERT INTO "lot_balance" VALUES(40,12,5000,1275,0,0);
INSERT INTO "lot_balance" VALUES(41,13,3000,1260,0,0);
INSERT INTO "lot_balance" VALUES(42,14,12000,1440,0,0);
INSERT INTO "lot_balance" VALUES(43,15,3000,450,0,0);
INSERT INTO "lot_balance" VALUES(44,15,6000,960,0,0);
INSERT INTO "lot_balance" VALUES(45,16,2000,1100,0,0);
INSERT INTO "lot_balance" VALUES(46,16,4000,2480,0,0);
INSERT INTO "lot_balance" VALUES(47,17,10000,1000,0,0);
INSERT INTO "lot_balance" VALUES(48,18,5000,900,0,0);
INSERT INTO "lot_balance" VALUES(49,19,3000,2040,0,0);
INSERT INTO "lot_balance" VALUES(50,20,4000,2080,0,0);
INSERT INTO "lot_balance" VALUES(51,20,2000,1180,0,0);
INSERT INTO "lot_balance" VALUES(52,21,5000,1700,0,0);
INSERT INTO "lot_balance" VALUES(53,22,2000,1500,0,0);
INSERT INTO "lot_balance" VALUES(54,23,3000,2460,0,0);
INSERT INTO "lot_balance" VALUES(55,23,2000,1720,0,0);
INSERT INTO "lot_balance" VALUES(56,24,7000,5740,0,0);
INSERT INTO "lot_balance" VALUES(57,25,5000,1950,0,0);
INSERT INTO "lot_balance" VALUES(58,26,4000,1560,0,0);
INSERT INTO "lot_balance" VALUES(59,26,3000,1230,0,0);
INSERT INTO "lot_balance" VALUES(60,27,4000,2560,0,0);
INSERT INTO "lot_balance" VALUES(61,28,3000,2940,0,0);
INSERT INTO "lot_balance" VALUES(62,29,4000,1040,0,0);
INSERT INTO "lot_balance" VALUES(63,30,2000,1480,0,0);
INSERT INTO "lot_balance" VALUES(64,35,4000,1440,0,0);
INSERT INTO "lot_balance" VALUES(65,31,1000,650,0,0);
INSERT INTO "lot_balance" VALUES(66,31,0,0,0,0);
INSERT INTO "lot_balance" VALUES(67,31,1000,500,0,0);
INSERT INTO "lot_balance" VALUES(68,31,1000,720,0,0);
INSERT INTO "lot_balance" VALUES(69,31,1000,720,0,0);
INSERT INTO "lot_balance" VALUES(70,31,0,0,0,0);
INSERT INTO "lot_balance" VALUES(71,31,1000,400,0,0);
INSERT INTO "lot_balance" VALUES(72,32,1000,450,0,0);
INSERT INTO "lot_balance" VALUES(73,32,1000,450,0,0);
INSERT INTO "lot_balance" VALUES(74,32,1000,350,0,0);
INSERT INTO "lot_balance" VALUES(75,33,1000,300,0,0);
INSERT INTO "lot_balance" VALUES(76,33,1000,300,0,0);
INSERT INTO "lot_balance" VALUES(77,33,1000,200,0,0);
INSERT INTO "lot_balance" VALUES(78,34,1000,150,0,0);
INSERT INTO "lot_balance" VALUES(79,34,1000,150,0,0);
INSERT INTO "lot_balance" VALUES(80,36,22000,374,0,0);
INSERT INTO "lot_balance" VALUES(81,36,0,0,0,0);
INSERT INTO "lot_balance" VALUES(82,37,11321,194,0,0);
INSERT INTO "lot_balance" VALUES(83,37,50000,900,0,0);
INSERT INTO "lot_balance" VALUES(84,38,17000,289,0,0);
INSERT INTO "lot_balance" VALUES(85,39,4100,20,0,0);
INSERT INTO "lot_balance" VALUES(86,40,36293,692,0,0);
INSERT INTO "lot_balance" VALUES(87,41,140000,532,0,0);
INSERT INTO "lot_balance" VALUES(88,42,12000,337,0,0);
INSERT INTO "lot_balance" VALUES(89,43,13500,378,0,0);
INSERT INTO "lot_balance" VALUES(90,44,12500,350,0,0);
INSERT INTO "lot_balance" VALUES(91,45,1500,42,0,0);
INSERT INTO "lot_balance" VALUES(92,46,21200,742,0,0);
INSERT INTO "lot_balance" VALUES(93,47,5860,411,0,0);
INSERT INTO "lot_balance" VALUES(94,48,4860,341,0,0);
INSERT INTO "lot_balance" VALUES(95,49,5860,411,0,0);
INSERT INTO "lot_balance" VALUES(96,50,1240,1426,0,0);
INSERT INTO "lot_balance" VALUES(97,51,88753,782,0,0);
INSERT INTO "lot_balance" VALUES(98,52,179400,826,0,0);
INSERT INTO "lot_balance" VALUES(99,53,159600,1197,0,0);
INSERT INTO "lot_balance" VALUES(100,54,70000,770,0,0);
INSERT INTO "lot_balance" VALUES(101,55,21000,273,0,0);
INSERT INTO "lot_balance" VALUES(102,56,26000,338,0,0);
INSERT INTO "lot_balance" VALUES(103,57,577778,408,0,0);
INSERT INTO "lot_balance" VALUES(104,58,300000,390,0,0);
INSERT INTO "lot_balance" VALUES(105,59,134000,134,0,0);
INSERT INTO "lot_balance" VALUES(106,60,62000,559,0,0);
INSERT INTO "lot_balance" VALUES(107,61,0,0,0,0);
INSERT INTO "lot_balance" VALUES(108,62,9000,495,0,0);
INSERT INTO "lot_balance" VALUES(109,63,5000,275,0,0);
INSERT INTO "lot_balance" VALUES(110,64,5000,450,0,0);
INSERT INTO "lot_balance" VALUES(111,65,3000,390,0,0);
INSERT INTO "lot_balance" VALUES(112,66,5000,700,0,0);
INSERT INTO "lot_balance" VALUES(113,67,60000,480,0,0);
INSERT INTO "lot_balance" VALUES(114,68,29000,928,0,0);
INSERT INTO "lot_balance" VALUES(115,69,7000,1330,0,0);
INSERT INTO "lot_balance" VALUES(116,70,2000,520,0,0);
INSERT INTO "lot_balance" VALUES(117,71,76000,456,0,0);
INSERT INTO "lot_balance" VALUES(118,72,3000,240,0,0);
INSERT INTO "lot_balance" VALUES(119,73,6000,240,0,0);
INSERT INTO "lot_balance" VALUES(120,74,1000,800,0,0);
INSERT INTO "lot_balance" VALUES(121,75,5000,3400,0,0);
INSERT INTO "lot_balance" VALUES(122,76,2000,1240,0,0);
INSERT INTO "lot_balance" VALUES(123,77,1000,690,0,0);
INSERT INTO "lot_balance" VALUES(124,78,1000,640,0,0);
INSERT INTO "lot_balance" VALUES(125,79,1000,740,0,0);
INSERT INTO "lot_balance" VALUES(126,80,1000,790,0,0);
INSERT INTO "lot_balance" VALUES(127,81,1000,780,0,0);
INSERT INTO "lot_balance" VALUES(128,82,1000,840,0,0);
INSERT INTO "lot_balance" VALUES(129,84,1000,1080,0,0);
INSERT INTO "lot_balance" VALUES(130,85,1000,1160,0,0);
INSERT INTO "lot_balance" VALUES(131,86,2000,1040,0,0);
INSERT INTO "lot_balance" VALUES(132,87,1000,640,0,0);
INSERT INTO "lot_balance" VALUES(133,88,1000,710,0,0);
INSERT INTO "lot_balance" VALUES(134,89,1000,790,0,0);
INSERT INTO "lot_balance" VALUES(135,90,1000,790,0,0);
INSERT INTO "lot_balance" VALUES(136,91,1000,760,0,0);
INSERT INTO "lot_balance" VALUES(137,92,1000,560,0,0);
INSERT INTO "lot_balance" VALUES(138,93,1000,560,0,0);
INSERT INTO "lot_balance" VALUES(139,95,1000,680,0,0);
INSERT INTO "lot_balance" VALUES(140,96,1000,680,0,0);
INSERT INTO "lot_balance" VALUES(141,97,1000,680,0,0);
INSERT INTO "lot_balance" VALUES(142,98,1000,680,0,0);
INSERT INTO "lot_balance" VALUES(143,99,1000,680,0,0);
INSERT INTO "lot_balance" VALUES(144,100,1000,680,0,0);
INSERT INTO "lot_balance" VALUES(145,101,1000,680,0,0);
INSERT INTO "lot_balance" VALUES(146,103,1000,1450,0,0);
INSERT INTO "lot_balance" VALUES(147,104,2000,3580,0,0);
INSERT INTO "lot_balance" VALUES(148,105,2000,3900,0,0);
INSERT INTO "lot_balance" VALUES(149,106,1000,980,0,0);
INSERT INTO "lot_balance" VALUES(150,107,3000,1860,0,0);
INSERT INTO "lot_balance" VALUES(151,61,0,0,0,0);
INSERT INTO "lot_balance" VALUES(152,111,1000,390,0,0);
INSERT INTO "lot_balance" VALUES(153,39,200000,890,0,0);
INSERT INTO "lot_balance" VALUES(154,45,28000,860,0,0);
INSERT INTO "lot_balance" VALUES(155,1,21000,756,0,0);
INSERT INTO "lot_balance" VALUES(156,38,50000,860,0,0);
INSERT INTO "lot_balance" VALUES(157,113,4000,1580,0,0);
INSERT INTO "lot_balance" VALUES(158,83,1000,960,0,0);
INSERT INTO "lot_balance" VALUES(159,40,50000,940,0,0);
INSERT INTO "lot_balance" VALUES(160,65,2000,330,0,0);
INSERT INTO "lot_balance" VALUES(161,59,200000,220,0,0);
INSERT INTO "lot_balance" VALUES(162,102,1000,640,0,0);
INSERT INTO "lot_balance" VALUES(163,61,0,0,0,0);
INSERT INTO "lot_balance" VALUES(164,135,0,0,0,0);
INSERT INTO "lot_balance" VALUES(165,36,0,0,0,0);
INSERT INTO "lot_balance" VALUES(166,136,0,0,0,0);
INSERT INTO "lot_balance" VALUES(167,137,0,0,0,0);
INSERT INTO "lot_balance" VALUES(168,138,0,0,0,0);
INSERT INTO "lot_balance" VALUES(169,61,64300,259,0,0);
INSERT INTO "lot_balance" VALUES(170,135,0,0,0,0);
INSERT INTO "lot_balance" VALUES(171,36,45791,780,0,0);
INSERT INTO "lot_balance" VALUES(172,136,5000,4276,0,0);
INSERT INTO "lot_balance" VALUES(173,137,1000,0,0,0);
INSERT INTO "lot_balance" VALUES(174,138,2000,2299,0,0);
CREATE TABLE making_session (
	id INTEGER NOT NULL, 
	document_id INTEGER NOT NULL, 
	name VARCHAR NOT NULL, 
	on_date DATE NOT NULL, 
	state VARCHAR NOT NULL, 
	CONSTRAINT pk_making_session PRIMARY KEY (id), 
	CONSTRAINT fk_making_session_document_id_document FOREIGN KEY(document_id) REFERENCES document (id)
);
INSERT INTO "making_session" VALUES(1,8,'2026-11-28','2026-11-28','booked');
CREATE TABLE material (
	id INTEGER NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	allowance VARCHAR NOT NULL, 
	caution VARCHAR NOT NULL, 
	listed_species VARCHAR NOT NULL, usual VARCHAR DEFAULT '[]' NOT NULL, 
	CONSTRAINT pk_material PRIMARY KEY (id), 
	CONSTRAINT uq_material_key UNIQUE ("key")
);
INSERT INTO "material" VALUES(1,'walnut','walnut','3.2 mm','the dust may make allergic; extraction and a respirator','','["caution"]');
INSERT INTO "material" VALUES(2,'olivewood','olivewood','3.2 mm','oily: wipe the bore with alcohol before gluing','','[]');
INSERT INTO "material" VALUES(3,'ash','ash','3.2 mm','','','[]');
INSERT INTO "material" VALUES(4,'cherry','cherry','1/8 in','','','[]');
INSERT INTO "material" VALUES(5,'bog oak','bog oak','3.2 mm','the dust may make allergic; extraction and a respirator','','["caution"]');
INSERT INTO "material" VALUES(6,'sycamore','sycamore','1.6 mm','','','[]');
INSERT INTO "material" VALUES(7,'iroko','iroko','3.2 mm','the dust may sensitise skin and lungs: extraction and a respirator','','[]');
INSERT INTO "material" VALUES(8,'rosewood','rosewood','3.2 mm','the dust may sensitise skin and lungs: extraction and a respirator','Dalbergia latifolia (CITES Appendix II, annotation #15)','[]');
INSERT INTO "material" VALUES(9,'elm burl','elm burl','6.4 mm','may fly apart at the lathe: look for cracks first; the dust irritates; extraction and a respirator','','["caution"]');
INSERT INTO "material" VALUES(10,'spalted beech','spalted beech','6.4 mm','spores and dust: extraction and a respirator','','[]');
INSERT INTO "material" VALUES(11,'thuya burl','thuya burl','1/4 in','may fly apart at the lathe: look for cracks first','','["caution"]');
INSERT INTO "material" VALUES(12,'heather root','heather root','6.4 mm','may fly apart at the lathe: look for cracks first','','["caution"]');
INSERT INTO "material" VALUES(13,'stabilised maple','stabilised maple','3.2 mm','','','[]');
INSERT INTO "material" VALUES(14,'acrylic','acrylic','6.4 mm','','','[]');
INSERT INTO "material" VALUES(15,'polyester resin','polyester resin','9.5 mm','brittle: light cuts, fine dust','','[]');
INSERT INTO "material" VALUES(16,'clear resin','clear resin','3/8 in','brittle; the glue shows through: paint tube and bore','','[]');
INSERT INTO "material" VALUES(17,'red deer antler','red deer antler','6.4 mm','dust and smell: extraction and a respirator; the core is porous','','[]');
INSERT INTO "material" VALUES(18,'buffalo horn','buffalo horn','6.4 mm','dust and smell: extraction and a respirator','','[]');
CREATE TABLE material_loss (
	material_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	stage VARCHAR NOT NULL, 
	share VARCHAR NOT NULL, 
	CONSTRAINT pk_material_loss PRIMARY KEY (material_id, position), 
	CONSTRAINT fk_material_loss_material_id_material FOREIGN KEY(material_id) REFERENCES material (id)
);
INSERT INTO "material_loss" VALUES(1,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(1,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(1,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(1,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(1,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(1,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(1,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(2,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(2,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(2,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(2,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(2,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(2,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(2,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(3,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(3,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(3,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(3,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(3,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(3,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(3,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(4,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(4,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(4,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(4,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(4,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(4,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(4,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(5,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(5,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(5,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(5,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(5,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(5,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(5,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(6,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(6,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(6,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(6,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(6,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(6,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(6,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(7,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(7,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(7,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(7,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(7,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(7,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(7,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(8,0,'cut','3/1000');
INSERT INTO "material_loss" VALUES(8,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(8,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(8,3,'trim','1/500');
INSERT INTO "material_loss" VALUES(8,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(8,5,'finish','3/1000');
INSERT INTO "material_loss" VALUES(8,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(9,0,'cut','1/100');
INSERT INTO "material_loss" VALUES(9,1,'drill','3/100');
INSERT INTO "material_loss" VALUES(9,2,'glue','1/100');
INSERT INTO "material_loss" VALUES(9,3,'trim','3/200');
INSERT INTO "material_loss" VALUES(9,4,'turn','3/100');
INSERT INTO "material_loss" VALUES(9,5,'finish','1/100');
INSERT INTO "material_loss" VALUES(9,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(10,0,'cut','1/100');
INSERT INTO "material_loss" VALUES(10,1,'drill','3/100');
INSERT INTO "material_loss" VALUES(10,2,'glue','1/100');
INSERT INTO "material_loss" VALUES(10,3,'trim','3/200');
INSERT INTO "material_loss" VALUES(10,4,'turn','3/100');
INSERT INTO "material_loss" VALUES(10,5,'finish','1/100');
INSERT INTO "material_loss" VALUES(10,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(11,0,'cut','1/100');
INSERT INTO "material_loss" VALUES(11,1,'drill','3/100');
INSERT INTO "material_loss" VALUES(11,2,'glue','1/100');
INSERT INTO "material_loss" VALUES(11,3,'trim','3/200');
INSERT INTO "material_loss" VALUES(11,4,'turn','3/100');
INSERT INTO "material_loss" VALUES(11,5,'finish','1/100');
INSERT INTO "material_loss" VALUES(11,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(12,0,'cut','1/100');
INSERT INTO "material_loss" VALUES(12,1,'drill','3/100');
INSERT INTO "material_loss" VALUES(12,2,'glue','1/100');
INSERT INTO "material_loss" VALUES(12,3,'trim','3/200');
INSERT INTO "material_loss" VALUES(12,4,'turn','3/100');
INSERT INTO "material_loss" VALUES(12,5,'finish','1/100');
INSERT INTO "material_loss" VALUES(12,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(13,0,'cut','1/500');
INSERT INTO "material_loss" VALUES(13,1,'drill','3/500');
INSERT INTO "material_loss" VALUES(13,2,'glue','3/1000');
INSERT INTO "material_loss" VALUES(13,3,'trim','1/250');
INSERT INTO "material_loss" VALUES(13,4,'turn','1/125');
INSERT INTO "material_loss" VALUES(13,5,'finish','1/500');
INSERT INTO "material_loss" VALUES(13,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(14,0,'cut','1/200');
INSERT INTO "material_loss" VALUES(14,1,'drill','3/200');
INSERT INTO "material_loss" VALUES(14,2,'glue','1/200');
INSERT INTO "material_loss" VALUES(14,3,'trim','1/125');
INSERT INTO "material_loss" VALUES(14,4,'turn','1/100');
INSERT INTO "material_loss" VALUES(14,5,'finish','1/500');
INSERT INTO "material_loss" VALUES(14,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(15,0,'cut','1/200');
INSERT INTO "material_loss" VALUES(15,1,'drill','1/50');
INSERT INTO "material_loss" VALUES(15,2,'glue','1/200');
INSERT INTO "material_loss" VALUES(15,3,'trim','1/50');
INSERT INTO "material_loss" VALUES(15,4,'turn','3/100');
INSERT INTO "material_loss" VALUES(15,5,'finish','1/200');
INSERT INTO "material_loss" VALUES(15,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(16,0,'cut','1/200');
INSERT INTO "material_loss" VALUES(16,1,'drill','1/50');
INSERT INTO "material_loss" VALUES(16,2,'glue','1/200');
INSERT INTO "material_loss" VALUES(16,3,'trim','1/50');
INSERT INTO "material_loss" VALUES(16,4,'turn','3/100');
INSERT INTO "material_loss" VALUES(16,5,'finish','1/200');
INSERT INTO "material_loss" VALUES(16,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(17,0,'cut','1/100');
INSERT INTO "material_loss" VALUES(17,1,'drill','7/200');
INSERT INTO "material_loss" VALUES(17,2,'glue','1/100');
INSERT INTO "material_loss" VALUES(17,3,'trim','3/200');
INSERT INTO "material_loss" VALUES(17,4,'turn','1/50');
INSERT INTO "material_loss" VALUES(17,5,'finish','3/200');
INSERT INTO "material_loss" VALUES(17,6,'assemble','3/200');
INSERT INTO "material_loss" VALUES(18,0,'cut','1/100');
INSERT INTO "material_loss" VALUES(18,1,'drill','7/200');
INSERT INTO "material_loss" VALUES(18,2,'glue','1/100');
INSERT INTO "material_loss" VALUES(18,3,'trim','3/200');
INSERT INTO "material_loss" VALUES(18,4,'turn','1/50');
INSERT INTO "material_loss" VALUES(18,5,'finish','3/200');
INSERT INTO "material_loss" VALUES(18,6,'assemble','3/200');
CREATE TABLE movement (
	id INTEGER NOT NULL, 
	document_id INTEGER NOT NULL, 
	account VARCHAR NOT NULL, 
	part_id INTEGER NOT NULL, 
	lot_id INTEGER, 
	purchase_id INTEGER, 
	order_id INTEGER, 
	quantity BIGINT NOT NULL, 
	cost BIGINT NOT NULL, 
	reason VARCHAR NOT NULL, 
	stage VARCHAR NOT NULL, cost_from INTEGER DEFAULT '0' NOT NULL, 
	CONSTRAINT pk_movement PRIMARY KEY (id), 
	CONSTRAINT fk_movement_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_movement_lot_id_lot FOREIGN KEY(lot_id) REFERENCES lot (id), 
	CONSTRAINT fk_movement_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_movement_purchase_id_purchase FOREIGN KEY(purchase_id) REFERENCES purchase (id), 
	CONSTRAINT fk_movement_order_id_customer_order FOREIGN KEY(order_id) REFERENCES customer_order (id)
);
INSERT INTO "movement" VALUES(1,1,'shelf',1,1,NULL,NULL,5000,180,'opening','',0);
INSERT INTO "movement" VALUES(2,1,'shelf',2,2,NULL,NULL,44000,1672,'opening','',0);
INSERT INTO "movement" VALUES(3,1,'shelf',3,3,NULL,NULL,22000,880,'opening','',0);
INSERT INTO "movement" VALUES(4,1,'shelf',4,4,NULL,NULL,6000,264,'opening','',0);
INSERT INTO "movement" VALUES(5,1,'shelf',5,5,NULL,NULL,18000,756,'opening','',0);
INSERT INTO "movement" VALUES(6,1,'shelf',6,6,NULL,NULL,16000,736,'opening','',0);
INSERT INTO "movement" VALUES(7,1,'shelf',7,7,NULL,NULL,3000,156,'opening','',0);
INSERT INTO "movement" VALUES(8,1,'shelf',8,8,NULL,NULL,6000,312,'opening','',0);
INSERT INTO "movement" VALUES(9,1,'shelf',9,9,NULL,NULL,6000,348,'opening','',0);
INSERT INTO "movement" VALUES(10,1,'shelf',10,10,NULL,NULL,2000,120,'opening','',0);
INSERT INTO "movement" VALUES(11,1,'shelf',108,11,NULL,NULL,4000,1360,'opening','',0);
INSERT INTO "movement" VALUES(12,1,'shelf',108,12,NULL,NULL,5000,1775,'opening','',0);
INSERT INTO "movement" VALUES(13,1,'shelf',109,13,NULL,NULL,3000,1380,'opening','',0);
INSERT INTO "movement" VALUES(14,1,'shelf',110,14,NULL,NULL,5000,1900,'opening','',0);
INSERT INTO "movement" VALUES(15,1,'shelf',111,15,NULL,NULL,3000,1170,'opening','',0);
INSERT INTO "movement" VALUES(16,1,'shelf',112,16,NULL,NULL,12000,5280,'opening','',0);
INSERT INTO "movement" VALUES(17,1,'shelf',114,17,NULL,NULL,14000,6020,'opening','',0);
INSERT INTO "movement" VALUES(18,1,'shelf',115,18,NULL,NULL,2000,840,'opening','',0);
INSERT INTO "movement" VALUES(19,1,'shelf',116,19,NULL,NULL,3000,2160,'opening','',0);
INSERT INTO "movement" VALUES(20,1,'shelf',117,20,NULL,NULL,4000,3040,'opening','',0);
INSERT INTO "movement" VALUES(21,1,'shelf',118,21,NULL,NULL,2000,1480,'opening','',0);
INSERT INTO "movement" VALUES(22,1,'shelf',119,22,NULL,NULL,2000,1620,'opening','',0);
INSERT INTO "movement" VALUES(23,1,'shelf',121,23,NULL,NULL,2000,2780,'opening','',0);
INSERT INTO "movement" VALUES(24,1,'shelf',122,24,NULL,NULL,1000,1640,'opening','',0);
INSERT INTO "movement" VALUES(25,1,'shelf',123,25,NULL,NULL,1000,1560,'opening','',0);
INSERT INTO "movement" VALUES(26,1,'shelf',124,26,NULL,NULL,2000,1960,'opening','',0);
INSERT INTO "movement" VALUES(27,1,'shelf',125,27,NULL,NULL,1000,1010,'opening','',0);
INSERT INTO "movement" VALUES(28,1,'shelf',126,28,NULL,NULL,1000,990,'opening','',0);
INSERT INTO "movement" VALUES(29,1,'shelf',127,29,NULL,NULL,8000,3840,'opening','',0);
INSERT INTO "movement" VALUES(30,1,'shelf',128,30,NULL,NULL,3000,1500,'opening','',0);
INSERT INTO "movement" VALUES(31,1,'shelf',129,31,NULL,NULL,1000,510,'opening','',0);
INSERT INTO "movement" VALUES(32,1,'shelf',130,32,NULL,NULL,2000,1060,'opening','',0);
INSERT INTO "movement" VALUES(33,1,'shelf',131,33,NULL,NULL,2000,820,'opening','',0);
INSERT INTO "movement" VALUES(34,1,'shelf',132,34,NULL,NULL,10000,4250,'opening','',0);
INSERT INTO "movement" VALUES(35,1,'shelf',133,35,NULL,NULL,4000,2520,'opening','',0);
INSERT INTO "movement" VALUES(36,1,'shelf',134,36,NULL,NULL,2000,1300,'opening','',0);
INSERT INTO "movement" VALUES(37,1,'shelf',11,37,NULL,NULL,4000,640,'opening','',0);
INSERT INTO "movement" VALUES(38,1,'shelf',11,38,NULL,NULL,9000,1575,'opening','',0);
INSERT INTO "movement" VALUES(39,1,'shelf',12,39,NULL,NULL,6000,1380,'opening','',0);
INSERT INTO "movement" VALUES(40,1,'shelf',12,40,NULL,NULL,5000,1275,'opening','',0);
INSERT INTO "movement" VALUES(41,1,'shelf',13,41,NULL,NULL,3000,1260,'opening','',0);
INSERT INTO "movement" VALUES(42,1,'shelf',14,42,NULL,NULL,12000,1440,'opening','',0);
INSERT INTO "movement" VALUES(43,1,'shelf',15,43,NULL,NULL,3000,450,'opening','',0);
INSERT INTO "movement" VALUES(44,1,'shelf',15,44,NULL,NULL,6000,960,'opening','',0);
INSERT INTO "movement" VALUES(45,1,'shelf',16,45,NULL,NULL,2000,1100,'opening','',0);
INSERT INTO "movement" VALUES(46,1,'shelf',16,46,NULL,NULL,4000,2480,'opening','',0);
INSERT INTO "movement" VALUES(47,1,'shelf',17,47,NULL,NULL,10000,1000,'opening','',0);
INSERT INTO "movement" VALUES(48,1,'shelf',18,48,NULL,NULL,5000,900,'opening','',0);
INSERT INTO "movement" VALUES(49,1,'shelf',19,49,NULL,NULL,3000,2040,'opening','',0);
INSERT INTO "movement" VALUES(50,1,'shelf',20,50,NULL,NULL,4000,2080,'opening','',0);
INSERT INTO "movement" VALUES(51,1,'shelf',20,51,NULL,NULL,2000,1180,'opening','',0);
INSERT INTO "movement" VALUES(52,1,'shelf',21,52,NULL,NULL,5000,1700,'opening','',0);
INSERT INTO "movement" VALUES(53,1,'shelf',22,53,NULL,NULL,2000,1500,'opening','',0);
INSERT INTO "movement" VALUES(54,1,'shelf',23,54,NULL,NULL,3000,2460,'opening','',0);
INSERT INTO "movement" VALUES(55,1,'shelf',23,55,NULL,NULL,2000,1720,'opening','',0);
INSERT INTO "movement" VALUES(56,1,'shelf',24,56,NULL,NULL,7000,5740,'opening','',0);
INSERT INTO "movement" VALUES(57,1,'shelf',25,57,NULL,NULL,5000,1950,'opening','',0);
INSERT INTO "movement" VALUES(58,1,'shelf',26,58,NULL,NULL,4000,1560,'opening','',0);
INSERT INTO "movement" VALUES(59,1,'shelf',26,59,NULL,NULL,3000,1230,'opening','',0);
INSERT INTO "movement" VALUES(60,1,'shelf',27,60,NULL,NULL,4000,2560,'opening','',0);
INSERT INTO "movement" VALUES(61,1,'shelf',28,61,NULL,NULL,3000,2940,'opening','',0);
INSERT INTO "movement" VALUES(62,1,'shelf',29,62,NULL,NULL,4000,1040,'opening','',0);
INSERT INTO "movement" VALUES(63,1,'shelf',30,63,NULL,NULL,2000,1480,'opening','',0);
INSERT INTO "movement" VALUES(64,1,'shelf',35,64,NULL,NULL,4000,1440,'opening','',0);
INSERT INTO "movement" VALUES(65,1,'shelf',31,65,NULL,NULL,1000,650,'opening','',0);
INSERT INTO "movement" VALUES(66,1,'shelf',31,66,NULL,NULL,1000,650,'opening','',0);
INSERT INTO "movement" VALUES(67,1,'shelf',31,67,NULL,NULL,1000,500,'opening','',0);
INSERT INTO "movement" VALUES(68,1,'shelf',31,68,NULL,NULL,1000,720,'opening','',0);
INSERT INTO "movement" VALUES(69,1,'shelf',31,69,NULL,NULL,1000,720,'opening','',0);
INSERT INTO "movement" VALUES(70,1,'shelf',31,70,NULL,NULL,1000,400,'opening','',0);
INSERT INTO "movement" VALUES(71,1,'shelf',31,71,NULL,NULL,1000,400,'opening','',0);
INSERT INTO "movement" VALUES(72,1,'shelf',32,72,NULL,NULL,1000,450,'opening','',0);
INSERT INTO "movement" VALUES(73,1,'shelf',32,73,NULL,NULL,1000,450,'opening','',0);
INSERT INTO "movement" VALUES(74,1,'shelf',32,74,NULL,NULL,1000,350,'opening','',0);
INSERT INTO "movement" VALUES(75,1,'shelf',33,75,NULL,NULL,1000,300,'opening','',0);
INSERT INTO "movement" VALUES(76,1,'shelf',33,76,NULL,NULL,1000,300,'opening','',0);
INSERT INTO "movement" VALUES(77,1,'shelf',33,77,NULL,NULL,1000,200,'opening','',0);
INSERT INTO "movement" VALUES(78,1,'shelf',34,78,NULL,NULL,1000,150,'opening','',0);
INSERT INTO "movement" VALUES(79,1,'shelf',34,79,NULL,NULL,1000,150,'opening','',0);
INSERT INTO "movement" VALUES(80,1,'shelf',36,80,NULL,NULL,22000,374,'opening','',0);
INSERT INTO "movement" VALUES(81,1,'shelf',36,81,NULL,NULL,50000,850,'opening','',0);
INSERT INTO "movement" VALUES(82,1,'shelf',37,82,NULL,NULL,31000,527,'opening','',0);
INSERT INTO "movement" VALUES(83,1,'shelf',37,83,NULL,NULL,50000,900,'opening','',0);
INSERT INTO "movement" VALUES(84,1,'shelf',38,84,NULL,NULL,17000,289,'opening','',0);
INSERT INTO "movement" VALUES(85,1,'shelf',39,85,NULL,NULL,10000,45,'opening','',0);
INSERT INTO "movement" VALUES(86,1,'shelf',40,86,NULL,NULL,46000,874,'opening','',0);
INSERT INTO "movement" VALUES(87,1,'shelf',41,87,NULL,NULL,140000,532,'opening','',0);
INSERT INTO "movement" VALUES(88,1,'shelf',42,88,NULL,NULL,14000,392,'opening','',0);
INSERT INTO "movement" VALUES(89,1,'shelf',43,89,NULL,NULL,16000,448,'opening','',0);
INSERT INTO "movement" VALUES(90,1,'shelf',44,90,NULL,NULL,15000,420,'opening','',0);
INSERT INTO "movement" VALUES(91,1,'shelf',45,91,NULL,NULL,4000,112,'opening','',0);
INSERT INTO "movement" VALUES(92,1,'shelf',46,92,NULL,NULL,24000,840,'opening','',0);
INSERT INTO "movement" VALUES(93,1,'shelf',47,93,NULL,NULL,6000,420,'opening','',0);
INSERT INTO "movement" VALUES(94,1,'shelf',48,94,NULL,NULL,5000,350,'opening','',0);
INSERT INTO "movement" VALUES(95,1,'shelf',49,95,NULL,NULL,6000,420,'opening','',0);
INSERT INTO "movement" VALUES(96,1,'shelf',50,96,NULL,NULL,1400,1610,'opening','',0);
INSERT INTO "movement" VALUES(97,1,'shelf',51,97,NULL,NULL,92000,810,'opening','',0);
INSERT INTO "movement" VALUES(98,1,'shelf',52,98,NULL,NULL,180000,828,'opening','',0);
INSERT INTO "movement" VALUES(99,1,'shelf',53,99,NULL,NULL,160000,1200,'opening','',0);
INSERT INTO "movement" VALUES(100,1,'shelf',54,100,NULL,NULL,70000,770,'opening','',0);
INSERT INTO "movement" VALUES(101,1,'shelf',55,101,NULL,NULL,21000,273,'opening','',0);
INSERT INTO "movement" VALUES(102,1,'shelf',56,102,NULL,NULL,26000,338,'opening','',0);
INSERT INTO "movement" VALUES(103,1,'shelf',57,103,NULL,NULL,640000,448,'opening','',0);
INSERT INTO "movement" VALUES(104,1,'shelf',58,104,NULL,NULL,300000,390,'opening','',0);
INSERT INTO "movement" VALUES(105,1,'shelf',59,105,NULL,NULL,180000,180,'opening','',0);
INSERT INTO "movement" VALUES(106,1,'shelf',60,106,NULL,NULL,64000,576,'opening','',0);
INSERT INTO "movement" VALUES(107,1,'shelf',61,107,NULL,NULL,70000,280,'opening','',0);
INSERT INTO "movement" VALUES(108,1,'shelf',62,108,NULL,NULL,9000,495,'opening','',0);
INSERT INTO "movement" VALUES(109,1,'shelf',63,109,NULL,NULL,11000,605,'opening','',0);
INSERT INTO "movement" VALUES(110,1,'shelf',64,110,NULL,NULL,7000,630,'opening','',0);
INSERT INTO "movement" VALUES(111,1,'shelf',65,111,NULL,NULL,3000,390,'opening','',0);
INSERT INTO "movement" VALUES(112,1,'shelf',66,112,NULL,NULL,5000,700,'opening','',0);
INSERT INTO "movement" VALUES(113,1,'shelf',67,113,NULL,NULL,60000,480,'opening','',0);
INSERT INTO "movement" VALUES(114,1,'shelf',68,114,NULL,NULL,38000,1216,'opening','',0);
INSERT INTO "movement" VALUES(115,1,'shelf',69,115,NULL,NULL,7000,1330,'opening','',0);
INSERT INTO "movement" VALUES(116,1,'shelf',70,116,NULL,NULL,2000,520,'opening','',0);
INSERT INTO "movement" VALUES(117,1,'shelf',71,117,NULL,NULL,85000,510,'opening','',0);
INSERT INTO "movement" VALUES(118,1,'shelf',72,118,NULL,NULL,3000,240,'opening','',0);
INSERT INTO "movement" VALUES(119,1,'shelf',73,119,NULL,NULL,6000,240,'opening','',0);
INSERT INTO "movement" VALUES(120,1,'shelf',74,120,NULL,NULL,1000,800,'opening','',0);
INSERT INTO "movement" VALUES(121,1,'shelf',75,121,NULL,NULL,5000,3400,'opening','',0);
INSERT INTO "movement" VALUES(122,1,'shelf',76,122,NULL,NULL,2000,1240,'opening','',0);
INSERT INTO "movement" VALUES(123,1,'shelf',77,123,NULL,NULL,1000,690,'opening','',0);
INSERT INTO "movement" VALUES(124,1,'shelf',78,124,NULL,NULL,1000,640,'opening','',0);
INSERT INTO "movement" VALUES(125,1,'shelf',79,125,NULL,NULL,1000,740,'opening','',0);
INSERT INTO "movement" VALUES(126,1,'shelf',80,126,NULL,NULL,1000,790,'opening','',0);
INSERT INTO "movement" VALUES(127,1,'shelf',81,127,NULL,NULL,1000,780,'opening','',0);
INSERT INTO "movement" VALUES(128,1,'shelf',82,128,NULL,NULL,1000,840,'opening','',0);
INSERT INTO "movement" VALUES(129,1,'shelf',84,129,NULL,NULL,1000,1080,'opening','',0);
INSERT INTO "movement" VALUES(130,1,'shelf',85,130,NULL,NULL,1000,1160,'opening','',0);
INSERT INTO "movement" VALUES(131,1,'shelf',86,131,NULL,NULL,2000,1040,'opening','',0);
INSERT INTO "movement" VALUES(132,1,'shelf',87,132,NULL,NULL,1000,640,'opening','',0);
INSERT INTO "movement" VALUES(133,1,'shelf',88,133,NULL,NULL,1000,710,'opening','',0);
INSERT INTO "movement" VALUES(134,1,'shelf',89,134,NULL,NULL,1000,790,'opening','',0);
INSERT INTO "movement" VALUES(135,1,'shelf',90,135,NULL,NULL,1000,790,'opening','',0);
INSERT INTO "movement" VALUES(136,1,'shelf',91,136,NULL,NULL,1000,760,'opening','',0);
INSERT INTO "movement" VALUES(137,1,'shelf',92,137,NULL,NULL,1000,560,'opening','',0);
INSERT INTO "movement" VALUES(138,1,'shelf',93,138,NULL,NULL,1000,560,'opening','',0);
INSERT INTO "movement" VALUES(139,1,'shelf',95,139,NULL,NULL,1000,680,'opening','',0);
INSERT INTO "movement" VALUES(140,1,'shelf',96,140,NULL,NULL,1000,680,'opening','',0);
INSERT INTO "movement" VALUES(141,1,'shelf',97,141,NULL,NULL,1000,680,'opening','',0);
INSERT INTO "movement" VALUES(142,1,'shelf',98,142,NULL,NULL,1000,680,'opening','',0);
INSERT INTO "movement" VALUES(143,1,'shelf',99,143,NULL,NULL,1000,680,'opening','',0);
INSERT INTO "movement" VALUES(144,1,'shelf',100,144,NULL,NULL,1000,680,'opening','',0);
INSERT INTO "movement" VALUES(145,1,'shelf',101,145,NULL,NULL,1000,680,'opening','',0);
INSERT INTO "movement" VALUES(146,1,'shelf',103,146,NULL,NULL,1000,1450,'opening','',0);
INSERT INTO "movement" VALUES(147,1,'shelf',104,147,NULL,NULL,2000,3580,'opening','',0);
INSERT INTO "movement" VALUES(148,1,'shelf',105,148,NULL,NULL,2000,3900,'opening','',0);
INSERT INTO "movement" VALUES(149,1,'shelf',106,149,NULL,NULL,1000,980,'opening','',0);
INSERT INTO "movement" VALUES(150,1,'shelf',107,150,NULL,NULL,3000,1860,'opening','',0);
INSERT INTO "movement" VALUES(151,2,'claim',31,66,NULL,1,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(152,2,'claim',31,70,NULL,1,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(153,2,'claim',57,NULL,NULL,1,38522,0,'claimed','',0);
INSERT INTO "movement" VALUES(154,2,'claim',3,NULL,NULL,1,3000,0,'claimed','',0);
INSERT INTO "movement" VALUES(155,2,'claim',40,NULL,NULL,1,6218,0,'claimed','',0);
INSERT INTO "movement" VALUES(156,2,'claim',61,NULL,NULL,1,2528,0,'claimed','',0);
INSERT INTO "movement" VALUES(157,2,'claim',42,NULL,NULL,1,1643,0,'claimed','',0);
INSERT INTO "movement" VALUES(158,2,'claim',43,NULL,NULL,1,2053,0,'claimed','',0);
INSERT INTO "movement" VALUES(159,2,'claim',44,NULL,NULL,1,2053,0,'claimed','',0);
INSERT INTO "movement" VALUES(160,2,'claim',45,NULL,NULL,1,2053,0,'claimed','',0);
INSERT INTO "movement" VALUES(161,2,'claim',52,NULL,NULL,1,1742,0,'claimed','',0);
INSERT INTO "movement" VALUES(162,2,'claim',51,NULL,NULL,1,9502,0,'claimed','',0);
INSERT INTO "movement" VALUES(163,2,'claim',53,NULL,NULL,1,1161,0,'claimed','',0);
INSERT INTO "movement" VALUES(164,2,'claim',59,NULL,NULL,1,11609,0,'claimed','',0);
INSERT INTO "movement" VALUES(165,2,'claim',127,NULL,NULL,1,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(166,2,'claim',68,NULL,NULL,1,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(167,2,'claim',71,NULL,NULL,1,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(168,3,'claim',3,NULL,NULL,1,-3000,0,'let go','',0);
INSERT INTO "movement" VALUES(169,3,'claim',31,66,NULL,1,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(170,3,'claim',31,70,NULL,1,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(171,3,'claim',40,NULL,NULL,1,-6218,0,'let go','',0);
INSERT INTO "movement" VALUES(172,3,'claim',42,NULL,NULL,1,-1643,0,'let go','',0);
INSERT INTO "movement" VALUES(173,3,'claim',43,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(174,3,'claim',44,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(175,3,'claim',45,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(176,3,'claim',51,NULL,NULL,1,-9502,0,'let go','',0);
INSERT INTO "movement" VALUES(177,3,'claim',52,NULL,NULL,1,-1742,0,'let go','',0);
INSERT INTO "movement" VALUES(178,3,'claim',53,NULL,NULL,1,-1161,0,'let go','',0);
INSERT INTO "movement" VALUES(179,3,'claim',57,NULL,NULL,1,-38522,0,'let go','',0);
INSERT INTO "movement" VALUES(180,3,'claim',59,NULL,NULL,1,-11609,0,'let go','',0);
INSERT INTO "movement" VALUES(181,3,'claim',61,NULL,NULL,1,-2528,0,'let go','',0);
INSERT INTO "movement" VALUES(182,3,'claim',68,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(183,3,'claim',71,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(184,3,'claim',127,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(185,3,'shelf',31,66,NULL,1,-1000,-650,'used','',0);
INSERT INTO "movement" VALUES(186,3,'shelf',57,103,NULL,1,-11000,-7,'used','',0);
INSERT INTO "movement" VALUES(187,3,'shelf',3,3,NULL,1,-2000,-80,'used','',0);
INSERT INTO "movement" VALUES(188,3,'shelf',40,86,NULL,1,-1950,-37,'used','',0);
INSERT INTO "movement" VALUES(189,3,'shelf',61,107,NULL,NULL,-70000,-280,'opened','',0);
INSERT INTO "movement" VALUES(190,3,'shelf',61,151,NULL,NULL,70000,280,'opened','',0);
INSERT INTO "movement" VALUES(191,3,'shelf',61,151,NULL,1,-600,-2,'used','',0);
INSERT INTO "movement" VALUES(192,3,'shelf',42,88,NULL,1,-400,-11,'used','',0);
INSERT INTO "movement" VALUES(193,3,'shelf',43,89,NULL,1,-500,-14,'used','',0);
INSERT INTO "movement" VALUES(194,3,'shelf',44,90,NULL,1,-500,-14,'used','',0);
INSERT INTO "movement" VALUES(195,3,'shelf',45,91,NULL,1,-500,-14,'used','',0);
INSERT INTO "movement" VALUES(196,3,'shelf',52,98,NULL,1,-600,-2,'used','',0);
INSERT INTO "movement" VALUES(197,3,'shelf',51,97,NULL,1,-3247,-28,'used','',0);
INSERT INTO "movement" VALUES(198,3,'shelf',53,99,NULL,1,-400,-3,'used','',0);
INSERT INTO "movement" VALUES(199,3,'shelf',59,105,NULL,1,-4000,-4,'used','',0);
INSERT INTO "movement" VALUES(200,3,'shelf',127,29,NULL,1,-2000,-960,'used','',0);
INSERT INTO "movement" VALUES(201,3,'shelf',68,114,NULL,1,-2000,-64,'used','',0);
INSERT INTO "movement" VALUES(202,3,'shelf',71,117,NULL,1,-2000,-12,'used','',0);
INSERT INTO "movement" VALUES(203,4,'shelf',71,117,NULL,1,2000,12,'undone','',0);
INSERT INTO "movement" VALUES(204,4,'shelf',68,114,NULL,1,2000,64,'undone','',0);
INSERT INTO "movement" VALUES(205,4,'shelf',127,29,NULL,1,2000,960,'undone','',0);
INSERT INTO "movement" VALUES(206,4,'shelf',59,105,NULL,1,4000,4,'undone','',0);
INSERT INTO "movement" VALUES(207,4,'shelf',53,99,NULL,1,400,3,'undone','',0);
INSERT INTO "movement" VALUES(208,4,'shelf',51,97,NULL,1,3247,28,'undone','',0);
INSERT INTO "movement" VALUES(209,4,'shelf',52,98,NULL,1,600,2,'undone','',0);
INSERT INTO "movement" VALUES(210,4,'shelf',45,91,NULL,1,500,14,'undone','',0);
INSERT INTO "movement" VALUES(211,4,'shelf',44,90,NULL,1,500,14,'undone','',0);
INSERT INTO "movement" VALUES(212,4,'shelf',43,89,NULL,1,500,14,'undone','',0);
INSERT INTO "movement" VALUES(213,4,'shelf',42,88,NULL,1,400,11,'undone','',0);
INSERT INTO "movement" VALUES(214,4,'shelf',61,151,NULL,1,600,2,'undone','',0);
INSERT INTO "movement" VALUES(215,4,'shelf',61,151,NULL,NULL,-70000,-280,'undone','',0);
INSERT INTO "movement" VALUES(216,4,'shelf',61,107,NULL,NULL,70000,280,'undone','',0);
INSERT INTO "movement" VALUES(217,4,'shelf',40,86,NULL,1,1950,37,'undone','',0);
INSERT INTO "movement" VALUES(218,4,'shelf',3,3,NULL,1,2000,80,'undone','',0);
INSERT INTO "movement" VALUES(219,4,'shelf',57,103,NULL,1,11000,7,'undone','',0);
INSERT INTO "movement" VALUES(220,4,'shelf',31,66,NULL,1,1000,650,'undone','',0);
INSERT INTO "movement" VALUES(221,4,'claim',127,NULL,NULL,1,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(222,4,'claim',71,NULL,NULL,1,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(223,4,'claim',68,NULL,NULL,1,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(224,4,'claim',61,NULL,NULL,1,2528,0,'undone','',0);
INSERT INTO "movement" VALUES(225,4,'claim',59,NULL,NULL,1,11609,0,'undone','',0);
INSERT INTO "movement" VALUES(226,4,'claim',57,NULL,NULL,1,38522,0,'undone','',0);
INSERT INTO "movement" VALUES(227,4,'claim',53,NULL,NULL,1,1161,0,'undone','',0);
INSERT INTO "movement" VALUES(228,4,'claim',52,NULL,NULL,1,1742,0,'undone','',0);
INSERT INTO "movement" VALUES(229,4,'claim',51,NULL,NULL,1,9502,0,'undone','',0);
INSERT INTO "movement" VALUES(230,4,'claim',45,NULL,NULL,1,2053,0,'undone','',0);
INSERT INTO "movement" VALUES(231,4,'claim',44,NULL,NULL,1,2053,0,'undone','',0);
INSERT INTO "movement" VALUES(232,4,'claim',43,NULL,NULL,1,2053,0,'undone','',0);
INSERT INTO "movement" VALUES(233,4,'claim',42,NULL,NULL,1,1643,0,'undone','',0);
INSERT INTO "movement" VALUES(234,4,'claim',40,NULL,NULL,1,6218,0,'undone','',0);
INSERT INTO "movement" VALUES(235,4,'claim',31,70,NULL,1,1000,0,'undone','',0);
INSERT INTO "movement" VALUES(236,4,'claim',31,66,NULL,1,1000,0,'undone','',0);
INSERT INTO "movement" VALUES(237,4,'claim',3,NULL,NULL,1,3000,0,'undone','',0);
INSERT INTO "movement" VALUES(238,5,'claim',11,NULL,NULL,2,7000,0,'claimed','',0);
INSERT INTO "movement" VALUES(239,5,'claim',57,NULL,NULL,2,49153,0,'claimed','',0);
INSERT INTO "movement" VALUES(240,5,'claim',1,NULL,NULL,2,5000,0,'claimed','',0);
INSERT INTO "movement" VALUES(241,5,'to buy',1,NULL,NULL,2,9000,0,'missing','',0);
INSERT INTO "movement" VALUES(242,5,'claim',40,NULL,NULL,2,14989,0,'claimed','',0);
INSERT INTO "movement" VALUES(243,5,'claim',61,NULL,NULL,2,12195,0,'claimed','',0);
INSERT INTO "movement" VALUES(244,5,'claim',42,NULL,NULL,2,4043,0,'claimed','',0);
INSERT INTO "movement" VALUES(245,5,'claim',43,NULL,NULL,2,5053,0,'claimed','',0);
INSERT INTO "movement" VALUES(246,5,'claim',44,NULL,NULL,2,5053,0,'claimed','',0);
INSERT INTO "movement" VALUES(247,5,'claim',45,NULL,NULL,2,1947,0,'claimed','',0);
INSERT INTO "movement" VALUES(248,5,'to buy',45,NULL,NULL,2,4759,0,'missing','',0);
INSERT INTO "movement" VALUES(249,5,'claim',36,NULL,NULL,2,11200,0,'claimed','',0);
INSERT INTO "movement" VALUES(250,5,'claim',37,NULL,NULL,2,39199,0,'claimed','',0);
INSERT INTO "movement" VALUES(251,5,'claim',39,NULL,NULL,2,10000,0,'claimed','',0);
INSERT INTO "movement" VALUES(252,5,'to buy',39,NULL,NULL,2,11220,0,'missing','',0);
INSERT INTO "movement" VALUES(253,5,'claim',46,NULL,NULL,2,8008,0,'claimed','',0);
INSERT INTO "movement" VALUES(254,5,'claim',50,NULL,NULL,2,401,0,'claimed','',0);
INSERT INTO "movement" VALUES(255,5,'claim',59,NULL,NULL,2,120111,0,'claimed','',0);
INSERT INTO "movement" VALUES(256,5,'claim',60,NULL,NULL,2,6978,0,'claimed','',0);
INSERT INTO "movement" VALUES(257,5,'claim',111,NULL,NULL,2,3000,0,'claimed','',0);
INSERT INTO "movement" VALUES(258,5,'to buy',111,NULL,NULL,2,4000,0,'missing','',0);
INSERT INTO "movement" VALUES(259,5,'claim',63,NULL,NULL,2,6000,0,'claimed','',0);
INSERT INTO "movement" VALUES(260,5,'claim',68,NULL,NULL,2,6000,0,'claimed','',0);
INSERT INTO "movement" VALUES(261,5,'claim',71,NULL,NULL,2,6000,0,'claimed','',0);
INSERT INTO "movement" VALUES(262,6,'due',111,NULL,1,NULL,4000,1560,'ordered','',0);
INSERT INTO "movement" VALUES(263,6,'to buy',111,NULL,NULL,2,-4000,0,'ordered','',0);
INSERT INTO "movement" VALUES(264,6,'due claim',111,NULL,1,2,4000,0,'ordered','',0);
INSERT INTO "movement" VALUES(265,6,'due',39,NULL,2,NULL,200000,890,'ordered','',0);
INSERT INTO "movement" VALUES(266,6,'to buy',39,NULL,NULL,2,-11220,0,'ordered','',0);
INSERT INTO "movement" VALUES(267,6,'due claim',39,NULL,2,2,11220,0,'ordered','',0);
INSERT INTO "movement" VALUES(268,6,'due',45,NULL,3,NULL,28000,860,'ordered','',0);
INSERT INTO "movement" VALUES(269,6,'to buy',45,NULL,NULL,2,-4759,0,'ordered','',0);
INSERT INTO "movement" VALUES(270,6,'due claim',45,NULL,3,2,4759,0,'ordered','',0);
INSERT INTO "movement" VALUES(271,6,'due',1,NULL,4,NULL,10000,380,'ordered','',0);
INSERT INTO "movement" VALUES(272,6,'to buy',1,NULL,NULL,2,-9000,0,'ordered','',0);
INSERT INTO "movement" VALUES(273,6,'due claim',1,NULL,4,2,9000,0,'ordered','',0);
INSERT INTO "movement" VALUES(274,6,'due',1,NULL,5,NULL,20000,700,'ordered','',0);
INSERT INTO "movement" VALUES(275,6,'due',38,NULL,6,NULL,50000,860,'ordered','',0);
INSERT INTO "movement" VALUES(276,6,'due',113,NULL,7,NULL,4000,1580,'ordered','',0);
INSERT INTO "movement" VALUES(277,6,'due',83,NULL,8,NULL,1000,960,'ordered','',0);
INSERT INTO "movement" VALUES(278,6,'due',40,NULL,9,NULL,50000,940,'ordered','',0);
INSERT INTO "movement" VALUES(279,6,'due',65,NULL,10,NULL,2000,330,'ordered','',0);
INSERT INTO "movement" VALUES(280,6,'due',59,NULL,11,NULL,200000,220,'ordered','',0);
INSERT INTO "movement" VALUES(281,6,'due',102,NULL,12,NULL,1000,640,'ordered','',0);
INSERT INTO "movement" VALUES(282,7,'due',111,NULL,1,NULL,-4000,-1560,'arrived','',0);
INSERT INTO "movement" VALUES(283,7,'due',39,NULL,2,NULL,-200000,-890,'arrived','',0);
INSERT INTO "movement" VALUES(284,7,'due',45,NULL,3,NULL,-28000,-860,'arrived','',0);
INSERT INTO "movement" VALUES(285,7,'due',1,NULL,4,NULL,-10000,-380,'arrived','',0);
INSERT INTO "movement" VALUES(286,7,'due',1,NULL,5,NULL,-20000,-700,'arrived','',0);
INSERT INTO "movement" VALUES(287,7,'due',38,NULL,6,NULL,-50000,-860,'arrived','',0);
INSERT INTO "movement" VALUES(288,7,'due',113,NULL,7,NULL,-4000,-1580,'arrived','',0);
INSERT INTO "movement" VALUES(289,7,'due',83,NULL,8,NULL,-1000,-960,'arrived','',0);
INSERT INTO "movement" VALUES(290,7,'due',40,NULL,9,NULL,-50000,-940,'arrived','',0);
INSERT INTO "movement" VALUES(291,7,'due',65,NULL,10,NULL,-2000,-330,'arrived','',0);
INSERT INTO "movement" VALUES(292,7,'due',59,NULL,11,NULL,-200000,-220,'arrived','',0);
INSERT INTO "movement" VALUES(293,7,'due',102,NULL,12,NULL,-1000,-640,'arrived','',0);
INSERT INTO "movement" VALUES(294,7,'shelf',111,152,NULL,NULL,4000,1560,'arrived','',0);
INSERT INTO "movement" VALUES(295,7,'shelf',39,153,NULL,NULL,200000,890,'arrived','',0);
INSERT INTO "movement" VALUES(296,7,'shelf',45,154,NULL,NULL,28000,860,'arrived','',0);
INSERT INTO "movement" VALUES(297,7,'shelf',1,155,NULL,NULL,30000,1080,'arrived','',0);
INSERT INTO "movement" VALUES(298,7,'shelf',38,156,NULL,NULL,50000,860,'arrived','',0);
INSERT INTO "movement" VALUES(299,7,'shelf',113,157,NULL,NULL,4000,1580,'arrived','',0);
INSERT INTO "movement" VALUES(300,7,'shelf',83,158,NULL,NULL,1000,960,'arrived','',0);
INSERT INTO "movement" VALUES(301,7,'shelf',40,159,NULL,NULL,50000,940,'arrived','',0);
INSERT INTO "movement" VALUES(302,7,'shelf',65,160,NULL,NULL,2000,330,'arrived','',0);
INSERT INTO "movement" VALUES(303,7,'shelf',59,161,NULL,NULL,200000,220,'arrived','',0);
INSERT INTO "movement" VALUES(304,7,'shelf',102,162,NULL,NULL,1000,640,'arrived','',0);
INSERT INTO "movement" VALUES(305,7,'due claim',111,NULL,1,2,-4000,0,'arrived','',0);
INSERT INTO "movement" VALUES(306,7,'claim',111,NULL,NULL,2,4000,0,'arrived','',0);
INSERT INTO "movement" VALUES(307,7,'due claim',39,NULL,2,2,-11220,0,'arrived','',0);
INSERT INTO "movement" VALUES(308,7,'claim',39,NULL,NULL,2,11220,0,'arrived','',0);
INSERT INTO "movement" VALUES(309,7,'due claim',45,NULL,3,2,-4759,0,'arrived','',0);
INSERT INTO "movement" VALUES(310,7,'claim',45,NULL,NULL,2,4759,0,'arrived','',0);
INSERT INTO "movement" VALUES(311,7,'due claim',1,NULL,4,2,-9000,0,'arrived','',0);
INSERT INTO "movement" VALUES(312,7,'claim',1,NULL,NULL,2,9000,0,'arrived','',0);
INSERT INTO "movement" VALUES(313,8,'claim',57,NULL,NULL,7,37574,0,'claimed','',0);
INSERT INTO "movement" VALUES(314,8,'claim',6,NULL,NULL,7,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(315,8,'claim',40,NULL,NULL,7,6589,0,'claimed','',0);
INSERT INTO "movement" VALUES(316,8,'claim',61,NULL,NULL,7,1748,0,'claimed','',0);
INSERT INTO "movement" VALUES(317,8,'claim',47,NULL,NULL,7,407,0,'claimed','',0);
INSERT INTO "movement" VALUES(318,8,'claim',48,NULL,NULL,7,407,0,'claimed','',0);
INSERT INTO "movement" VALUES(319,8,'claim',49,NULL,NULL,7,407,0,'claimed','',0);
INSERT INTO "movement" VALUES(320,8,'claim',36,NULL,NULL,7,2460,0,'claimed','',0);
INSERT INTO "movement" VALUES(321,8,'claim',37,NULL,NULL,7,8610,0,'claimed','',0);
INSERT INTO "movement" VALUES(322,8,'claim',39,NULL,NULL,7,4892,0,'claimed','',0);
INSERT INTO "movement" VALUES(323,8,'claim',46,NULL,NULL,7,1155,0,'claimed','',0);
INSERT INTO "movement" VALUES(324,8,'claim',50,NULL,NULL,7,116,0,'claimed','',0);
INSERT INTO "movement" VALUES(325,8,'claim',59,NULL,NULL,7,17324,0,'claimed','',0);
INSERT INTO "movement" VALUES(326,8,'claim',60,NULL,NULL,7,6978,0,'claimed','',0);
INSERT INTO "movement" VALUES(327,8,'claim',117,NULL,NULL,7,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(328,8,'claim',64,NULL,NULL,7,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(329,8,'claim',68,NULL,NULL,7,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(330,8,'claim',71,NULL,NULL,7,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(331,8,'claim',12,NULL,NULL,7,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(332,9,'claim',3,NULL,NULL,1,-3000,0,'let go','',0);
INSERT INTO "movement" VALUES(333,9,'claim',31,66,NULL,1,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(334,9,'claim',31,70,NULL,1,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(335,9,'claim',40,NULL,NULL,1,-6218,0,'let go','',0);
INSERT INTO "movement" VALUES(336,9,'claim',42,NULL,NULL,1,-1643,0,'let go','',0);
INSERT INTO "movement" VALUES(337,9,'claim',43,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(338,9,'claim',44,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(339,9,'claim',45,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(340,9,'claim',51,NULL,NULL,1,-9502,0,'let go','',0);
INSERT INTO "movement" VALUES(341,9,'claim',52,NULL,NULL,1,-1742,0,'let go','',0);
INSERT INTO "movement" VALUES(342,9,'claim',53,NULL,NULL,1,-1161,0,'let go','',0);
INSERT INTO "movement" VALUES(343,9,'claim',57,NULL,NULL,1,-38522,0,'let go','',0);
INSERT INTO "movement" VALUES(344,9,'claim',59,NULL,NULL,1,-11609,0,'let go','',0);
INSERT INTO "movement" VALUES(345,9,'claim',61,NULL,NULL,1,-2528,0,'let go','',0);
INSERT INTO "movement" VALUES(346,9,'claim',68,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(347,9,'claim',71,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(348,9,'claim',127,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(349,9,'claim',1,NULL,NULL,2,-14000,0,'let go','',0);
INSERT INTO "movement" VALUES(350,9,'claim',11,NULL,NULL,2,-7000,0,'let go','',0);
INSERT INTO "movement" VALUES(351,9,'claim',36,NULL,NULL,2,-11200,0,'let go','',0);
INSERT INTO "movement" VALUES(352,9,'claim',37,NULL,NULL,2,-39199,0,'let go','',0);
INSERT INTO "movement" VALUES(353,9,'claim',39,NULL,NULL,2,-21220,0,'let go','',0);
INSERT INTO "movement" VALUES(354,9,'claim',40,NULL,NULL,2,-14989,0,'let go','',0);
INSERT INTO "movement" VALUES(355,9,'claim',42,NULL,NULL,2,-4043,0,'let go','',0);
INSERT INTO "movement" VALUES(356,9,'claim',43,NULL,NULL,2,-5053,0,'let go','',0);
INSERT INTO "movement" VALUES(357,9,'claim',44,NULL,NULL,2,-5053,0,'let go','',0);
INSERT INTO "movement" VALUES(358,9,'claim',45,NULL,NULL,2,-6706,0,'let go','',0);
INSERT INTO "movement" VALUES(359,9,'claim',46,NULL,NULL,2,-8008,0,'let go','',0);
INSERT INTO "movement" VALUES(360,9,'claim',50,NULL,NULL,2,-401,0,'let go','',0);
INSERT INTO "movement" VALUES(361,9,'claim',57,NULL,NULL,2,-49153,0,'let go','',0);
INSERT INTO "movement" VALUES(362,9,'claim',59,NULL,NULL,2,-120111,0,'let go','',0);
INSERT INTO "movement" VALUES(363,9,'claim',60,NULL,NULL,2,-6978,0,'let go','',0);
INSERT INTO "movement" VALUES(364,9,'claim',61,NULL,NULL,2,-12195,0,'let go','',0);
INSERT INTO "movement" VALUES(365,9,'claim',63,NULL,NULL,2,-6000,0,'let go','',0);
INSERT INTO "movement" VALUES(366,9,'claim',68,NULL,NULL,2,-6000,0,'let go','',0);
INSERT INTO "movement" VALUES(367,9,'claim',71,NULL,NULL,2,-6000,0,'let go','',0);
INSERT INTO "movement" VALUES(368,9,'claim',111,NULL,NULL,2,-7000,0,'let go','',0);
INSERT INTO "movement" VALUES(369,9,'claim',6,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(370,9,'claim',12,NULL,NULL,7,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(371,9,'claim',36,NULL,NULL,7,-2460,0,'let go','',0);
INSERT INTO "movement" VALUES(372,9,'claim',37,NULL,NULL,7,-8610,0,'let go','',0);
INSERT INTO "movement" VALUES(373,9,'claim',39,NULL,NULL,7,-4892,0,'let go','',0);
INSERT INTO "movement" VALUES(374,9,'claim',40,NULL,NULL,7,-6589,0,'let go','',0);
INSERT INTO "movement" VALUES(375,9,'claim',46,NULL,NULL,7,-1155,0,'let go','',0);
INSERT INTO "movement" VALUES(376,9,'claim',47,NULL,NULL,7,-407,0,'let go','',0);
INSERT INTO "movement" VALUES(377,9,'claim',48,NULL,NULL,7,-407,0,'let go','',0);
INSERT INTO "movement" VALUES(378,9,'claim',49,NULL,NULL,7,-407,0,'let go','',0);
INSERT INTO "movement" VALUES(379,9,'claim',50,NULL,NULL,7,-116,0,'let go','',0);
INSERT INTO "movement" VALUES(380,9,'claim',57,NULL,NULL,7,-37574,0,'let go','',0);
INSERT INTO "movement" VALUES(381,9,'claim',59,NULL,NULL,7,-17324,0,'let go','',0);
INSERT INTO "movement" VALUES(382,9,'claim',60,NULL,NULL,7,-6978,0,'let go','',0);
INSERT INTO "movement" VALUES(383,9,'claim',61,NULL,NULL,7,-1748,0,'let go','',0);
INSERT INTO "movement" VALUES(384,9,'claim',64,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(385,9,'claim',68,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(386,9,'claim',71,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(387,9,'claim',117,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(388,9,'shelf',31,66,NULL,1,-1000,-650,'used','cut',0);
INSERT INTO "movement" VALUES(389,9,'shelf',31,70,NULL,1,-333,-133,'used','cut',0);
INSERT INTO "movement" VALUES(390,9,'shelf',31,70,NULL,1,-667,-267,'lost','cut',0);
INSERT INTO "movement" VALUES(391,9,'shelf',57,103,NULL,1,-2531,-1,'used','drill',0);
INSERT INTO "movement" VALUES(392,9,'shelf',57,103,NULL,1,-1267,0,'lost','drill',0);
INSERT INTO "movement" VALUES(393,9,'shelf',3,3,NULL,1,-2000,-80,'used','glue',0);
INSERT INTO "movement" VALUES(394,9,'shelf',3,3,NULL,1,-1000,-40,'lost','glue',0);
INSERT INTO "movement" VALUES(395,9,'shelf',40,86,NULL,1,-1116,-21,'used','glue',0);
INSERT INTO "movement" VALUES(396,9,'shelf',40,86,NULL,1,-558,-10,'lost','glue',0);
INSERT INTO "movement" VALUES(397,9,'shelf',61,107,NULL,NULL,-70000,-280,'opened','',0);
INSERT INTO "movement" VALUES(398,9,'shelf',61,163,NULL,NULL,70000,280,'opened','',0);
INSERT INTO "movement" VALUES(399,9,'shelf',61,163,NULL,1,-600,-2,'used','glue',0);
INSERT INTO "movement" VALUES(400,9,'shelf',61,163,NULL,1,-300,-1,'lost','glue',0);
INSERT INTO "movement" VALUES(401,9,'shelf',42,88,NULL,1,-400,-11,'used','turn',0);
INSERT INTO "movement" VALUES(402,9,'shelf',42,88,NULL,1,-200,-5,'lost','turn',0);
INSERT INTO "movement" VALUES(403,9,'shelf',43,89,NULL,1,-500,-14,'used','turn',0);
INSERT INTO "movement" VALUES(404,9,'shelf',43,89,NULL,1,-250,-7,'lost','turn',0);
INSERT INTO "movement" VALUES(405,9,'shelf',44,90,NULL,1,-500,-14,'used','turn',0);
INSERT INTO "movement" VALUES(406,9,'shelf',44,90,NULL,1,-250,-7,'lost','turn',0);
INSERT INTO "movement" VALUES(407,9,'shelf',45,91,NULL,1,-500,-14,'used','turn',0);
INSERT INTO "movement" VALUES(408,9,'shelf',45,91,NULL,1,-250,-7,'lost','turn',0);
INSERT INTO "movement" VALUES(409,9,'shelf',52,98,NULL,1,-600,-2,'used','finish',0);
INSERT INTO "movement" VALUES(410,9,'shelf',51,97,NULL,1,-3247,-28,'used','finish',0);
INSERT INTO "movement" VALUES(411,9,'shelf',53,99,NULL,1,-400,-3,'used','finish',0);
INSERT INTO "movement" VALUES(412,9,'shelf',59,105,NULL,1,-4000,-4,'used','finish',0);
INSERT INTO "movement" VALUES(413,9,'shelf',127,29,NULL,1,-2000,-960,'used','assemble',0);
INSERT INTO "movement" VALUES(414,9,'shelf',68,114,NULL,1,-2000,-64,'used','pack',0);
INSERT INTO "movement" VALUES(415,9,'shelf',71,117,NULL,1,-2000,-12,'used','pack',0);
INSERT INTO "movement" VALUES(416,9,'shelf',135,164,NULL,1,2000,2013,'made','',0);
INSERT INTO "movement" VALUES(417,9,'shelf',11,37,NULL,2,-4000,-640,'used','cut',0);
INSERT INTO "movement" VALUES(418,9,'shelf',11,38,NULL,2,-1000,-175,'used','cut',0);
INSERT INTO "movement" VALUES(419,9,'shelf',11,38,NULL,2,-2000,-350,'lost','cut',0);
INSERT INTO "movement" VALUES(420,9,'shelf',57,103,NULL,2,-8704,-6,'used','drill',0);
INSERT INTO "movement" VALUES(421,9,'shelf',57,103,NULL,2,-3483,-2,'lost','drill',0);
INSERT INTO "movement" VALUES(422,9,'shelf',1,1,NULL,2,-5000,-180,'used','glue',0);
INSERT INTO "movement" VALUES(423,9,'shelf',1,155,NULL,2,-5000,-180,'used','glue',0);
INSERT INTO "movement" VALUES(424,9,'shelf',1,155,NULL,2,-4000,-144,'lost','glue',0);
INSERT INTO "movement" VALUES(425,9,'shelf',40,86,NULL,2,-4127,-78,'used','glue',0);
INSERT INTO "movement" VALUES(426,9,'shelf',40,86,NULL,2,-1651,-31,'lost','glue',0);
INSERT INTO "movement" VALUES(427,9,'shelf',61,163,NULL,2,-3000,-12,'used','glue',0);
INSERT INTO "movement" VALUES(428,9,'shelf',61,163,NULL,2,-1200,-4,'lost','glue',0);
INSERT INTO "movement" VALUES(429,9,'shelf',42,88,NULL,2,-1000,-28,'used','turn',0);
INSERT INTO "movement" VALUES(430,9,'shelf',42,88,NULL,2,-400,-11,'lost','turn',0);
INSERT INTO "movement" VALUES(431,9,'shelf',43,89,NULL,2,-1250,-35,'used','turn',0);
INSERT INTO "movement" VALUES(432,9,'shelf',43,89,NULL,2,-500,-14,'lost','turn',0);
INSERT INTO "movement" VALUES(433,9,'shelf',44,90,NULL,2,-1250,-35,'used','turn',0);
INSERT INTO "movement" VALUES(434,9,'shelf',44,90,NULL,2,-500,-14,'lost','turn',0);
INSERT INTO "movement" VALUES(435,9,'shelf',45,91,NULL,2,-1250,-35,'used','turn',0);
INSERT INTO "movement" VALUES(436,9,'shelf',45,91,NULL,2,-500,-14,'lost','turn',0);
INSERT INTO "movement" VALUES(437,9,'shelf',36,81,NULL,NULL,-50000,-850,'opened','',0);
INSERT INTO "movement" VALUES(438,9,'shelf',36,165,NULL,NULL,50000,850,'opened','',0);
INSERT INTO "movement" VALUES(439,9,'shelf',36,165,NULL,2,-2798,-47,'used','finish',0);
INSERT INTO "movement" VALUES(440,9,'shelf',36,165,NULL,2,-559,-9,'lost','finish',0);
INSERT INTO "movement" VALUES(441,9,'shelf',37,82,NULL,2,-9791,-166,'used','finish',0);
INSERT INTO "movement" VALUES(442,9,'shelf',37,82,NULL,2,-1958,-33,'lost','finish',0);
INSERT INTO "movement" VALUES(443,9,'shelf',39,85,NULL,2,-4125,-18,'used','finish',0);
INSERT INTO "movement" VALUES(444,9,'shelf',39,85,NULL,2,-825,-3,'lost','finish',0);
INSERT INTO "movement" VALUES(445,9,'shelf',46,92,NULL,2,-2000,-70,'used','finish',0);
INSERT INTO "movement" VALUES(446,9,'shelf',46,92,NULL,2,-400,-14,'lost','finish',0);
INSERT INTO "movement" VALUES(447,9,'shelf',50,96,NULL,2,-100,-115,'used','finish',0);
INSERT INTO "movement" VALUES(448,9,'shelf',50,96,NULL,2,-20,-23,'lost','finish',0);
INSERT INTO "movement" VALUES(449,9,'shelf',59,105,NULL,2,-30000,-30,'used','finish',0);
INSERT INTO "movement" VALUES(450,9,'shelf',59,105,NULL,2,-6000,-6,'lost','finish',0);
INSERT INTO "movement" VALUES(451,9,'shelf',60,106,NULL,2,-1250,-11,'used','finish',0);
INSERT INTO "movement" VALUES(452,9,'shelf',60,106,NULL,2,-250,-2,'lost','finish',0);
INSERT INTO "movement" VALUES(453,9,'shelf',111,15,NULL,2,-3000,-1170,'used','assemble',0);
INSERT INTO "movement" VALUES(454,9,'shelf',111,152,NULL,2,-2000,-780,'used','assemble',0);
INSERT INTO "movement" VALUES(455,9,'shelf',111,152,NULL,2,-1000,-390,'lost','assemble',0);
INSERT INTO "movement" VALUES(456,9,'shelf',63,109,NULL,2,-5000,-275,'used','assemble',0);
INSERT INTO "movement" VALUES(457,9,'shelf',63,109,NULL,2,-1000,-55,'lost','assemble',0);
INSERT INTO "movement" VALUES(458,9,'shelf',68,114,NULL,2,-5000,-160,'used','pack',0);
INSERT INTO "movement" VALUES(459,9,'shelf',71,117,NULL,2,-5000,-30,'used','pack',0);
INSERT INTO "movement" VALUES(460,9,'shelf',136,166,NULL,2,5000,4276,'made','',0);
INSERT INTO "movement" VALUES(461,9,'shelf',137,167,NULL,NULL,1000,0,'saved','',0);
INSERT INTO "movement" VALUES(462,9,'shelf',12,39,NULL,7,-1000,-230,'used','cut',0);
INSERT INTO "movement" VALUES(463,9,'shelf',57,103,NULL,7,-2533,-1,'used','drill',0);
INSERT INTO "movement" VALUES(464,9,'shelf',6,6,NULL,7,-2000,-92,'used','glue',0);
INSERT INTO "movement" VALUES(465,9,'shelf',40,86,NULL,7,-1739,-33,'used','glue',0);
INSERT INTO "movement" VALUES(466,9,'shelf',61,163,NULL,7,-600,-2,'used','glue',0);
INSERT INTO "movement" VALUES(467,9,'shelf',47,93,NULL,7,-140,-9,'used','turn',0);
INSERT INTO "movement" VALUES(468,9,'shelf',48,94,NULL,7,-140,-9,'used','turn',0);
INSERT INTO "movement" VALUES(469,9,'shelf',49,95,NULL,7,-140,-9,'used','turn',0);
INSERT INTO "movement" VALUES(470,9,'shelf',36,165,NULL,7,-852,-14,'used','finish',0);
INSERT INTO "movement" VALUES(471,9,'shelf',37,82,NULL,7,-2982,-50,'used','finish',0);
INSERT INTO "movement" VALUES(472,9,'shelf',39,85,NULL,7,-950,-4,'used','finish',0);
INSERT INTO "movement" VALUES(473,9,'shelf',46,92,NULL,7,-400,-14,'used','finish',0);
INSERT INTO "movement" VALUES(474,9,'shelf',50,96,NULL,7,-40,-46,'used','finish',0);
INSERT INTO "movement" VALUES(475,9,'shelf',59,105,NULL,7,-6000,-6,'used','finish',0);
INSERT INTO "movement" VALUES(476,9,'shelf',60,106,NULL,7,-500,-4,'used','finish',0);
INSERT INTO "movement" VALUES(477,9,'shelf',117,20,NULL,7,-2000,-1520,'used','assemble',0);
INSERT INTO "movement" VALUES(478,9,'shelf',64,110,NULL,7,-2000,-180,'used','assemble',0);
INSERT INTO "movement" VALUES(479,9,'shelf',68,114,NULL,7,-2000,-64,'used','pack',0);
INSERT INTO "movement" VALUES(480,9,'shelf',71,117,NULL,7,-2000,-12,'used','pack',0);
INSERT INTO "movement" VALUES(481,9,'shelf',138,168,NULL,7,2000,2299,'made','',0);
INSERT INTO "movement" VALUES(482,9,'shelf',57,103,NULL,NULL,-43704,-30,'evaporated','',0);
INSERT INTO "movement" VALUES(483,9,'shelf',40,86,NULL,NULL,-516,-9,'weighed','',0);
INSERT INTO "movement" VALUES(484,9,'shelf',37,82,NULL,NULL,-4948,-84,'weighed','',0);
INSERT INTO "movement" VALUES(485,9,'shelf',112,16,NULL,NULL,-1000,-440,'not found','',0);
INSERT INTO "movement" VALUES(486,9,'claim',135,NULL,NULL,1,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(487,9,'claim',136,NULL,NULL,2,5000,0,'claimed','',0);
INSERT INTO "movement" VALUES(488,9,'claim',11,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(489,9,'claim',57,NULL,NULL,2,17952,0,'claimed','',0);
INSERT INTO "movement" VALUES(490,9,'claim',1,NULL,NULL,2,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(491,9,'claim',40,NULL,NULL,2,2915,0,'claimed','',0);
INSERT INTO "movement" VALUES(492,9,'claim',61,NULL,NULL,2,1754,0,'claimed','',0);
INSERT INTO "movement" VALUES(493,9,'claim',42,NULL,NULL,2,318,0,'claimed','',0);
INSERT INTO "movement" VALUES(494,9,'claim',43,NULL,NULL,2,730,0,'claimed','',0);
INSERT INTO "movement" VALUES(495,9,'claim',44,NULL,NULL,2,730,0,'claimed','',0);
INSERT INTO "movement" VALUES(496,9,'claim',45,NULL,NULL,2,730,0,'claimed','',0);
INSERT INTO "movement" VALUES(497,9,'claim',36,NULL,NULL,2,1612,0,'claimed','',0);
INSERT INTO "movement" VALUES(498,9,'claim',37,NULL,NULL,2,3871,0,'claimed','',0);
INSERT INTO "movement" VALUES(499,9,'claim',39,NULL,NULL,2,4869,0,'claimed','',0);
INSERT INTO "movement" VALUES(500,9,'claim',46,NULL,NULL,2,1153,0,'claimed','',0);
INSERT INTO "movement" VALUES(501,9,'claim',50,NULL,NULL,2,58,0,'claimed','',0);
INSERT INTO "movement" VALUES(502,9,'claim',59,NULL,NULL,2,17286,0,'claimed','',0);
INSERT INTO "movement" VALUES(503,9,'claim',60,NULL,NULL,2,6978,0,'claimed','',0);
INSERT INTO "movement" VALUES(504,9,'claim',111,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(505,9,'claim',63,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(506,9,'claim',68,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(507,9,'claim',71,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(508,10,'claim',71,NULL,NULL,2,-1000,0,'undone','',0);
INSERT INTO "movement" VALUES(509,10,'claim',68,NULL,NULL,2,-1000,0,'undone','',0);
INSERT INTO "movement" VALUES(510,10,'claim',63,NULL,NULL,2,-1000,0,'undone','',0);
INSERT INTO "movement" VALUES(511,10,'claim',111,NULL,NULL,2,-1000,0,'undone','',0);
INSERT INTO "movement" VALUES(512,10,'claim',60,NULL,NULL,2,-6978,0,'undone','',0);
INSERT INTO "movement" VALUES(513,10,'claim',59,NULL,NULL,2,-17286,0,'undone','',0);
INSERT INTO "movement" VALUES(514,10,'claim',50,NULL,NULL,2,-58,0,'undone','',0);
INSERT INTO "movement" VALUES(515,10,'claim',46,NULL,NULL,2,-1153,0,'undone','',0);
INSERT INTO "movement" VALUES(516,10,'claim',39,NULL,NULL,2,-4869,0,'undone','',0);
INSERT INTO "movement" VALUES(517,10,'claim',37,NULL,NULL,2,-3871,0,'undone','',0);
INSERT INTO "movement" VALUES(518,10,'claim',36,NULL,NULL,2,-1612,0,'undone','',0);
INSERT INTO "movement" VALUES(519,10,'claim',45,NULL,NULL,2,-730,0,'undone','',0);
INSERT INTO "movement" VALUES(520,10,'claim',44,NULL,NULL,2,-730,0,'undone','',0);
INSERT INTO "movement" VALUES(521,10,'claim',43,NULL,NULL,2,-730,0,'undone','',0);
INSERT INTO "movement" VALUES(522,10,'claim',42,NULL,NULL,2,-318,0,'undone','',0);
INSERT INTO "movement" VALUES(523,10,'claim',61,NULL,NULL,2,-1754,0,'undone','',0);
INSERT INTO "movement" VALUES(524,10,'claim',40,NULL,NULL,2,-2915,0,'undone','',0);
INSERT INTO "movement" VALUES(525,10,'claim',1,NULL,NULL,2,-2000,0,'undone','',0);
INSERT INTO "movement" VALUES(526,10,'claim',57,NULL,NULL,2,-17952,0,'undone','',0);
INSERT INTO "movement" VALUES(527,10,'claim',11,NULL,NULL,2,-1000,0,'undone','',0);
INSERT INTO "movement" VALUES(528,10,'claim',136,NULL,NULL,2,-5000,0,'undone','',0);
INSERT INTO "movement" VALUES(529,10,'claim',135,NULL,NULL,1,-2000,0,'undone','',0);
INSERT INTO "movement" VALUES(530,10,'shelf',112,16,NULL,NULL,1000,440,'undone','',0);
INSERT INTO "movement" VALUES(531,10,'shelf',37,82,NULL,NULL,4948,84,'undone','',0);
INSERT INTO "movement" VALUES(532,10,'shelf',40,86,NULL,NULL,516,9,'undone','',0);
INSERT INTO "movement" VALUES(533,10,'shelf',57,103,NULL,NULL,43704,30,'undone','',0);
INSERT INTO "movement" VALUES(534,10,'shelf',138,168,NULL,7,-2000,-2299,'undone','',0);
INSERT INTO "movement" VALUES(535,10,'shelf',71,117,NULL,7,2000,12,'undone','pack',0);
INSERT INTO "movement" VALUES(536,10,'shelf',68,114,NULL,7,2000,64,'undone','pack',0);
INSERT INTO "movement" VALUES(537,10,'shelf',64,110,NULL,7,2000,180,'undone','assemble',0);
INSERT INTO "movement" VALUES(538,10,'shelf',117,20,NULL,7,2000,1520,'undone','assemble',0);
INSERT INTO "movement" VALUES(539,10,'shelf',60,106,NULL,7,500,4,'undone','finish',0);
INSERT INTO "movement" VALUES(540,10,'shelf',59,105,NULL,7,6000,6,'undone','finish',0);
INSERT INTO "movement" VALUES(541,10,'shelf',50,96,NULL,7,40,46,'undone','finish',0);
INSERT INTO "movement" VALUES(542,10,'shelf',46,92,NULL,7,400,14,'undone','finish',0);
INSERT INTO "movement" VALUES(543,10,'shelf',39,85,NULL,7,950,4,'undone','finish',0);
INSERT INTO "movement" VALUES(544,10,'shelf',37,82,NULL,7,2982,50,'undone','finish',0);
INSERT INTO "movement" VALUES(545,10,'shelf',36,165,NULL,7,852,14,'undone','finish',0);
INSERT INTO "movement" VALUES(546,10,'shelf',49,95,NULL,7,140,9,'undone','turn',0);
INSERT INTO "movement" VALUES(547,10,'shelf',48,94,NULL,7,140,9,'undone','turn',0);
INSERT INTO "movement" VALUES(548,10,'shelf',47,93,NULL,7,140,9,'undone','turn',0);
INSERT INTO "movement" VALUES(549,10,'shelf',61,163,NULL,7,600,2,'undone','glue',0);
INSERT INTO "movement" VALUES(550,10,'shelf',40,86,NULL,7,1739,33,'undone','glue',0);
INSERT INTO "movement" VALUES(551,10,'shelf',6,6,NULL,7,2000,92,'undone','glue',0);
INSERT INTO "movement" VALUES(552,10,'shelf',57,103,NULL,7,2533,1,'undone','drill',0);
INSERT INTO "movement" VALUES(553,10,'shelf',12,39,NULL,7,1000,230,'undone','cut',0);
INSERT INTO "movement" VALUES(554,10,'shelf',137,167,NULL,NULL,-1000,0,'undone','',0);
INSERT INTO "movement" VALUES(555,10,'shelf',136,166,NULL,2,-5000,-4276,'undone','',0);
INSERT INTO "movement" VALUES(556,10,'shelf',71,117,NULL,2,5000,30,'undone','pack',0);
INSERT INTO "movement" VALUES(557,10,'shelf',68,114,NULL,2,5000,160,'undone','pack',0);
INSERT INTO "movement" VALUES(558,10,'shelf',63,109,NULL,2,1000,55,'undone','assemble',0);
INSERT INTO "movement" VALUES(559,10,'shelf',63,109,NULL,2,5000,275,'undone','assemble',0);
INSERT INTO "movement" VALUES(560,10,'shelf',111,152,NULL,2,1000,390,'undone','assemble',0);
INSERT INTO "movement" VALUES(561,10,'shelf',111,152,NULL,2,2000,780,'undone','assemble',0);
INSERT INTO "movement" VALUES(562,10,'shelf',111,15,NULL,2,3000,1170,'undone','assemble',0);
INSERT INTO "movement" VALUES(563,10,'shelf',60,106,NULL,2,250,2,'undone','finish',0);
INSERT INTO "movement" VALUES(564,10,'shelf',60,106,NULL,2,1250,11,'undone','finish',0);
INSERT INTO "movement" VALUES(565,10,'shelf',59,105,NULL,2,6000,6,'undone','finish',0);
INSERT INTO "movement" VALUES(566,10,'shelf',59,105,NULL,2,30000,30,'undone','finish',0);
INSERT INTO "movement" VALUES(567,10,'shelf',50,96,NULL,2,20,23,'undone','finish',0);
INSERT INTO "movement" VALUES(568,10,'shelf',50,96,NULL,2,100,115,'undone','finish',0);
INSERT INTO "movement" VALUES(569,10,'shelf',46,92,NULL,2,400,14,'undone','finish',0);
INSERT INTO "movement" VALUES(570,10,'shelf',46,92,NULL,2,2000,70,'undone','finish',0);
INSERT INTO "movement" VALUES(571,10,'shelf',39,85,NULL,2,825,3,'undone','finish',0);
INSERT INTO "movement" VALUES(572,10,'shelf',39,85,NULL,2,4125,18,'undone','finish',0);
INSERT INTO "movement" VALUES(573,10,'shelf',37,82,NULL,2,1958,33,'undone','finish',0);
INSERT INTO "movement" VALUES(574,10,'shelf',37,82,NULL,2,9791,166,'undone','finish',0);
INSERT INTO "movement" VALUES(575,10,'shelf',36,165,NULL,2,559,9,'undone','finish',0);
INSERT INTO "movement" VALUES(576,10,'shelf',36,165,NULL,2,2798,47,'undone','finish',0);
INSERT INTO "movement" VALUES(577,10,'shelf',36,165,NULL,NULL,-50000,-850,'undone','',0);
INSERT INTO "movement" VALUES(578,10,'shelf',36,81,NULL,NULL,50000,850,'undone','',0);
INSERT INTO "movement" VALUES(579,10,'shelf',45,91,NULL,2,500,14,'undone','turn',0);
INSERT INTO "movement" VALUES(580,10,'shelf',45,91,NULL,2,1250,35,'undone','turn',0);
INSERT INTO "movement" VALUES(581,10,'shelf',44,90,NULL,2,500,14,'undone','turn',0);
INSERT INTO "movement" VALUES(582,10,'shelf',44,90,NULL,2,1250,35,'undone','turn',0);
INSERT INTO "movement" VALUES(583,10,'shelf',43,89,NULL,2,500,14,'undone','turn',0);
INSERT INTO "movement" VALUES(584,10,'shelf',43,89,NULL,2,1250,35,'undone','turn',0);
INSERT INTO "movement" VALUES(585,10,'shelf',42,88,NULL,2,400,11,'undone','turn',0);
INSERT INTO "movement" VALUES(586,10,'shelf',42,88,NULL,2,1000,28,'undone','turn',0);
INSERT INTO "movement" VALUES(587,10,'shelf',61,163,NULL,2,1200,4,'undone','glue',0);
INSERT INTO "movement" VALUES(588,10,'shelf',61,163,NULL,2,3000,12,'undone','glue',0);
INSERT INTO "movement" VALUES(589,10,'shelf',40,86,NULL,2,1651,31,'undone','glue',0);
INSERT INTO "movement" VALUES(590,10,'shelf',40,86,NULL,2,4127,78,'undone','glue',0);
INSERT INTO "movement" VALUES(591,10,'shelf',1,155,NULL,2,4000,144,'undone','glue',0);
INSERT INTO "movement" VALUES(592,10,'shelf',1,155,NULL,2,5000,180,'undone','glue',0);
INSERT INTO "movement" VALUES(593,10,'shelf',1,1,NULL,2,5000,180,'undone','glue',0);
INSERT INTO "movement" VALUES(594,10,'shelf',57,103,NULL,2,3483,2,'undone','drill',0);
INSERT INTO "movement" VALUES(595,10,'shelf',57,103,NULL,2,8704,6,'undone','drill',0);
INSERT INTO "movement" VALUES(596,10,'shelf',11,38,NULL,2,2000,350,'undone','cut',0);
INSERT INTO "movement" VALUES(597,10,'shelf',11,38,NULL,2,1000,175,'undone','cut',0);
INSERT INTO "movement" VALUES(598,10,'shelf',11,37,NULL,2,4000,640,'undone','cut',0);
INSERT INTO "movement" VALUES(599,10,'shelf',135,164,NULL,1,-2000,-2013,'undone','',0);
INSERT INTO "movement" VALUES(600,10,'shelf',71,117,NULL,1,2000,12,'undone','pack',0);
INSERT INTO "movement" VALUES(601,10,'shelf',68,114,NULL,1,2000,64,'undone','pack',0);
INSERT INTO "movement" VALUES(602,10,'shelf',127,29,NULL,1,2000,960,'undone','assemble',0);
INSERT INTO "movement" VALUES(603,10,'shelf',59,105,NULL,1,4000,4,'undone','finish',0);
INSERT INTO "movement" VALUES(604,10,'shelf',53,99,NULL,1,400,3,'undone','finish',0);
INSERT INTO "movement" VALUES(605,10,'shelf',51,97,NULL,1,3247,28,'undone','finish',0);
INSERT INTO "movement" VALUES(606,10,'shelf',52,98,NULL,1,600,2,'undone','finish',0);
INSERT INTO "movement" VALUES(607,10,'shelf',45,91,NULL,1,250,7,'undone','turn',0);
INSERT INTO "movement" VALUES(608,10,'shelf',45,91,NULL,1,500,14,'undone','turn',0);
INSERT INTO "movement" VALUES(609,10,'shelf',44,90,NULL,1,250,7,'undone','turn',0);
INSERT INTO "movement" VALUES(610,10,'shelf',44,90,NULL,1,500,14,'undone','turn',0);
INSERT INTO "movement" VALUES(611,10,'shelf',43,89,NULL,1,250,7,'undone','turn',0);
INSERT INTO "movement" VALUES(612,10,'shelf',43,89,NULL,1,500,14,'undone','turn',0);
INSERT INTO "movement" VALUES(613,10,'shelf',42,88,NULL,1,200,5,'undone','turn',0);
INSERT INTO "movement" VALUES(614,10,'shelf',42,88,NULL,1,400,11,'undone','turn',0);
INSERT INTO "movement" VALUES(615,10,'shelf',61,163,NULL,1,300,1,'undone','glue',0);
INSERT INTO "movement" VALUES(616,10,'shelf',61,163,NULL,1,600,2,'undone','glue',0);
INSERT INTO "movement" VALUES(617,10,'shelf',61,163,NULL,NULL,-70000,-280,'undone','',0);
INSERT INTO "movement" VALUES(618,10,'shelf',61,107,NULL,NULL,70000,280,'undone','',0);
INSERT INTO "movement" VALUES(619,10,'shelf',40,86,NULL,1,558,10,'undone','glue',0);
INSERT INTO "movement" VALUES(620,10,'shelf',40,86,NULL,1,1116,21,'undone','glue',0);
INSERT INTO "movement" VALUES(621,10,'shelf',3,3,NULL,1,1000,40,'undone','glue',0);
INSERT INTO "movement" VALUES(622,10,'shelf',3,3,NULL,1,2000,80,'undone','glue',0);
INSERT INTO "movement" VALUES(623,10,'shelf',57,103,NULL,1,1267,0,'undone','drill',0);
INSERT INTO "movement" VALUES(624,10,'shelf',57,103,NULL,1,2531,1,'undone','drill',0);
INSERT INTO "movement" VALUES(625,10,'shelf',31,70,NULL,1,667,267,'undone','cut',0);
INSERT INTO "movement" VALUES(626,10,'shelf',31,70,NULL,1,333,133,'undone','cut',0);
INSERT INTO "movement" VALUES(627,10,'shelf',31,66,NULL,1,1000,650,'undone','cut',0);
INSERT INTO "movement" VALUES(628,10,'claim',117,NULL,NULL,7,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(629,10,'claim',71,NULL,NULL,7,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(630,10,'claim',68,NULL,NULL,7,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(631,10,'claim',64,NULL,NULL,7,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(632,10,'claim',61,NULL,NULL,7,1748,0,'undone','',0);
INSERT INTO "movement" VALUES(633,10,'claim',60,NULL,NULL,7,6978,0,'undone','',0);
INSERT INTO "movement" VALUES(634,10,'claim',59,NULL,NULL,7,17324,0,'undone','',0);
INSERT INTO "movement" VALUES(635,10,'claim',57,NULL,NULL,7,37574,0,'undone','',0);
INSERT INTO "movement" VALUES(636,10,'claim',50,NULL,NULL,7,116,0,'undone','',0);
INSERT INTO "movement" VALUES(637,10,'claim',49,NULL,NULL,7,407,0,'undone','',0);
INSERT INTO "movement" VALUES(638,10,'claim',48,NULL,NULL,7,407,0,'undone','',0);
INSERT INTO "movement" VALUES(639,10,'claim',47,NULL,NULL,7,407,0,'undone','',0);
INSERT INTO "movement" VALUES(640,10,'claim',46,NULL,NULL,7,1155,0,'undone','',0);
INSERT INTO "movement" VALUES(641,10,'claim',40,NULL,NULL,7,6589,0,'undone','',0);
INSERT INTO "movement" VALUES(642,10,'claim',39,NULL,NULL,7,4892,0,'undone','',0);
INSERT INTO "movement" VALUES(643,10,'claim',37,NULL,NULL,7,8610,0,'undone','',0);
INSERT INTO "movement" VALUES(644,10,'claim',36,NULL,NULL,7,2460,0,'undone','',0);
INSERT INTO "movement" VALUES(645,10,'claim',12,NULL,NULL,7,1000,0,'undone','',0);
INSERT INTO "movement" VALUES(646,10,'claim',6,NULL,NULL,7,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(647,10,'claim',111,NULL,NULL,2,7000,0,'undone','',0);
INSERT INTO "movement" VALUES(648,10,'claim',71,NULL,NULL,2,6000,0,'undone','',0);
INSERT INTO "movement" VALUES(649,10,'claim',68,NULL,NULL,2,6000,0,'undone','',0);
INSERT INTO "movement" VALUES(650,10,'claim',63,NULL,NULL,2,6000,0,'undone','',0);
INSERT INTO "movement" VALUES(651,10,'claim',61,NULL,NULL,2,12195,0,'undone','',0);
INSERT INTO "movement" VALUES(652,10,'claim',60,NULL,NULL,2,6978,0,'undone','',0);
INSERT INTO "movement" VALUES(653,10,'claim',59,NULL,NULL,2,120111,0,'undone','',0);
INSERT INTO "movement" VALUES(654,10,'claim',57,NULL,NULL,2,49153,0,'undone','',0);
INSERT INTO "movement" VALUES(655,10,'claim',50,NULL,NULL,2,401,0,'undone','',0);
INSERT INTO "movement" VALUES(656,10,'claim',46,NULL,NULL,2,8008,0,'undone','',0);
INSERT INTO "movement" VALUES(657,10,'claim',45,NULL,NULL,2,6706,0,'undone','',0);
INSERT INTO "movement" VALUES(658,10,'claim',44,NULL,NULL,2,5053,0,'undone','',0);
INSERT INTO "movement" VALUES(659,10,'claim',43,NULL,NULL,2,5053,0,'undone','',0);
INSERT INTO "movement" VALUES(660,10,'claim',42,NULL,NULL,2,4043,0,'undone','',0);
INSERT INTO "movement" VALUES(661,10,'claim',40,NULL,NULL,2,14989,0,'undone','',0);
INSERT INTO "movement" VALUES(662,10,'claim',39,NULL,NULL,2,21220,0,'undone','',0);
INSERT INTO "movement" VALUES(663,10,'claim',37,NULL,NULL,2,39199,0,'undone','',0);
INSERT INTO "movement" VALUES(664,10,'claim',36,NULL,NULL,2,11200,0,'undone','',0);
INSERT INTO "movement" VALUES(665,10,'claim',11,NULL,NULL,2,7000,0,'undone','',0);
INSERT INTO "movement" VALUES(666,10,'claim',1,NULL,NULL,2,14000,0,'undone','',0);
INSERT INTO "movement" VALUES(667,10,'claim',127,NULL,NULL,1,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(668,10,'claim',71,NULL,NULL,1,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(669,10,'claim',68,NULL,NULL,1,2000,0,'undone','',0);
INSERT INTO "movement" VALUES(670,10,'claim',61,NULL,NULL,1,2528,0,'undone','',0);
INSERT INTO "movement" VALUES(671,10,'claim',59,NULL,NULL,1,11609,0,'undone','',0);
INSERT INTO "movement" VALUES(672,10,'claim',57,NULL,NULL,1,38522,0,'undone','',0);
INSERT INTO "movement" VALUES(673,10,'claim',53,NULL,NULL,1,1161,0,'undone','',0);
INSERT INTO "movement" VALUES(674,10,'claim',52,NULL,NULL,1,1742,0,'undone','',0);
INSERT INTO "movement" VALUES(675,10,'claim',51,NULL,NULL,1,9502,0,'undone','',0);
INSERT INTO "movement" VALUES(676,10,'claim',45,NULL,NULL,1,2053,0,'undone','',0);
INSERT INTO "movement" VALUES(677,10,'claim',44,NULL,NULL,1,2053,0,'undone','',0);
INSERT INTO "movement" VALUES(678,10,'claim',43,NULL,NULL,1,2053,0,'undone','',0);
INSERT INTO "movement" VALUES(679,10,'claim',42,NULL,NULL,1,1643,0,'undone','',0);
INSERT INTO "movement" VALUES(680,10,'claim',40,NULL,NULL,1,6218,0,'undone','',0);
INSERT INTO "movement" VALUES(681,10,'claim',31,70,NULL,1,1000,0,'undone','',0);
INSERT INTO "movement" VALUES(682,10,'claim',31,66,NULL,1,1000,0,'undone','',0);
INSERT INTO "movement" VALUES(683,10,'claim',3,NULL,NULL,1,3000,0,'undone','',0);
INSERT INTO "movement" VALUES(684,11,'claim',3,NULL,NULL,1,-3000,0,'let go','',0);
INSERT INTO "movement" VALUES(685,11,'claim',31,66,NULL,1,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(686,11,'claim',31,70,NULL,1,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(687,11,'claim',40,NULL,NULL,1,-6218,0,'let go','',0);
INSERT INTO "movement" VALUES(688,11,'claim',42,NULL,NULL,1,-1643,0,'let go','',0);
INSERT INTO "movement" VALUES(689,11,'claim',43,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(690,11,'claim',44,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(691,11,'claim',45,NULL,NULL,1,-2053,0,'let go','',0);
INSERT INTO "movement" VALUES(692,11,'claim',51,NULL,NULL,1,-9502,0,'let go','',0);
INSERT INTO "movement" VALUES(693,11,'claim',52,NULL,NULL,1,-1742,0,'let go','',0);
INSERT INTO "movement" VALUES(694,11,'claim',53,NULL,NULL,1,-1161,0,'let go','',0);
INSERT INTO "movement" VALUES(695,11,'claim',57,NULL,NULL,1,-38522,0,'let go','',0);
INSERT INTO "movement" VALUES(696,11,'claim',59,NULL,NULL,1,-11609,0,'let go','',0);
INSERT INTO "movement" VALUES(697,11,'claim',61,NULL,NULL,1,-2528,0,'let go','',0);
INSERT INTO "movement" VALUES(698,11,'claim',68,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(699,11,'claim',71,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(700,11,'claim',127,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(701,11,'claim',1,NULL,NULL,2,-14000,0,'let go','',0);
INSERT INTO "movement" VALUES(702,11,'claim',11,NULL,NULL,2,-7000,0,'let go','',0);
INSERT INTO "movement" VALUES(703,11,'claim',36,NULL,NULL,2,-11200,0,'let go','',0);
INSERT INTO "movement" VALUES(704,11,'claim',37,NULL,NULL,2,-39199,0,'let go','',0);
INSERT INTO "movement" VALUES(705,11,'claim',39,NULL,NULL,2,-21220,0,'let go','',0);
INSERT INTO "movement" VALUES(706,11,'claim',40,NULL,NULL,2,-14989,0,'let go','',0);
INSERT INTO "movement" VALUES(707,11,'claim',42,NULL,NULL,2,-4043,0,'let go','',0);
INSERT INTO "movement" VALUES(708,11,'claim',43,NULL,NULL,2,-5053,0,'let go','',0);
INSERT INTO "movement" VALUES(709,11,'claim',44,NULL,NULL,2,-5053,0,'let go','',0);
INSERT INTO "movement" VALUES(710,11,'claim',45,NULL,NULL,2,-6706,0,'let go','',0);
INSERT INTO "movement" VALUES(711,11,'claim',46,NULL,NULL,2,-8008,0,'let go','',0);
INSERT INTO "movement" VALUES(712,11,'claim',50,NULL,NULL,2,-401,0,'let go','',0);
INSERT INTO "movement" VALUES(713,11,'claim',57,NULL,NULL,2,-49153,0,'let go','',0);
INSERT INTO "movement" VALUES(714,11,'claim',59,NULL,NULL,2,-120111,0,'let go','',0);
INSERT INTO "movement" VALUES(715,11,'claim',60,NULL,NULL,2,-6978,0,'let go','',0);
INSERT INTO "movement" VALUES(716,11,'claim',61,NULL,NULL,2,-12195,0,'let go','',0);
INSERT INTO "movement" VALUES(717,11,'claim',63,NULL,NULL,2,-6000,0,'let go','',0);
INSERT INTO "movement" VALUES(718,11,'claim',68,NULL,NULL,2,-6000,0,'let go','',0);
INSERT INTO "movement" VALUES(719,11,'claim',71,NULL,NULL,2,-6000,0,'let go','',0);
INSERT INTO "movement" VALUES(720,11,'claim',111,NULL,NULL,2,-7000,0,'let go','',0);
INSERT INTO "movement" VALUES(721,11,'claim',6,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(722,11,'claim',12,NULL,NULL,7,-1000,0,'let go','',0);
INSERT INTO "movement" VALUES(723,11,'claim',36,NULL,NULL,7,-2460,0,'let go','',0);
INSERT INTO "movement" VALUES(724,11,'claim',37,NULL,NULL,7,-8610,0,'let go','',0);
INSERT INTO "movement" VALUES(725,11,'claim',39,NULL,NULL,7,-4892,0,'let go','',0);
INSERT INTO "movement" VALUES(726,11,'claim',40,NULL,NULL,7,-6589,0,'let go','',0);
INSERT INTO "movement" VALUES(727,11,'claim',46,NULL,NULL,7,-1155,0,'let go','',0);
INSERT INTO "movement" VALUES(728,11,'claim',47,NULL,NULL,7,-407,0,'let go','',0);
INSERT INTO "movement" VALUES(729,11,'claim',48,NULL,NULL,7,-407,0,'let go','',0);
INSERT INTO "movement" VALUES(730,11,'claim',49,NULL,NULL,7,-407,0,'let go','',0);
INSERT INTO "movement" VALUES(731,11,'claim',50,NULL,NULL,7,-116,0,'let go','',0);
INSERT INTO "movement" VALUES(732,11,'claim',57,NULL,NULL,7,-37574,0,'let go','',0);
INSERT INTO "movement" VALUES(733,11,'claim',59,NULL,NULL,7,-17324,0,'let go','',0);
INSERT INTO "movement" VALUES(734,11,'claim',60,NULL,NULL,7,-6978,0,'let go','',0);
INSERT INTO "movement" VALUES(735,11,'claim',61,NULL,NULL,7,-1748,0,'let go','',0);
INSERT INTO "movement" VALUES(736,11,'claim',64,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(737,11,'claim',68,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(738,11,'claim',71,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(739,11,'claim',117,NULL,NULL,7,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(740,11,'shelf',31,66,NULL,1,-1000,-650,'used','cut',0);
INSERT INTO "movement" VALUES(741,11,'shelf',31,70,NULL,1,-333,-133,'used','cut',0);
INSERT INTO "movement" VALUES(742,11,'shelf',31,70,NULL,1,-667,-267,'lost','cut',0);
INSERT INTO "movement" VALUES(743,11,'shelf',57,103,NULL,1,-2531,-1,'used','drill',0);
INSERT INTO "movement" VALUES(744,11,'shelf',57,103,NULL,1,-1267,0,'lost','drill',0);
INSERT INTO "movement" VALUES(745,11,'shelf',3,3,NULL,1,-2000,-80,'used','glue',0);
INSERT INTO "movement" VALUES(746,11,'shelf',3,3,NULL,1,-1000,-40,'lost','glue',0);
INSERT INTO "movement" VALUES(747,11,'shelf',40,86,NULL,1,-1116,-21,'used','glue',0);
INSERT INTO "movement" VALUES(748,11,'shelf',40,86,NULL,1,-558,-10,'lost','glue',0);
INSERT INTO "movement" VALUES(749,11,'shelf',61,107,NULL,NULL,-70000,-280,'opened','',0);
INSERT INTO "movement" VALUES(750,11,'shelf',61,169,NULL,NULL,70000,280,'opened','',0);
INSERT INTO "movement" VALUES(751,11,'shelf',61,169,NULL,1,-600,-2,'used','glue',0);
INSERT INTO "movement" VALUES(752,11,'shelf',61,169,NULL,1,-300,-1,'lost','glue',0);
INSERT INTO "movement" VALUES(753,11,'shelf',42,88,NULL,1,-400,-11,'used','turn',0);
INSERT INTO "movement" VALUES(754,11,'shelf',42,88,NULL,1,-200,-5,'lost','turn',0);
INSERT INTO "movement" VALUES(755,11,'shelf',43,89,NULL,1,-500,-14,'used','turn',0);
INSERT INTO "movement" VALUES(756,11,'shelf',43,89,NULL,1,-250,-7,'lost','turn',0);
INSERT INTO "movement" VALUES(757,11,'shelf',44,90,NULL,1,-500,-14,'used','turn',0);
INSERT INTO "movement" VALUES(758,11,'shelf',44,90,NULL,1,-250,-7,'lost','turn',0);
INSERT INTO "movement" VALUES(759,11,'shelf',45,91,NULL,1,-500,-14,'used','turn',0);
INSERT INTO "movement" VALUES(760,11,'shelf',45,91,NULL,1,-250,-7,'lost','turn',0);
INSERT INTO "movement" VALUES(761,11,'shelf',52,98,NULL,1,-600,-2,'used','finish',0);
INSERT INTO "movement" VALUES(762,11,'shelf',51,97,NULL,1,-3247,-28,'used','finish',0);
INSERT INTO "movement" VALUES(763,11,'shelf',53,99,NULL,1,-400,-3,'used','finish',0);
INSERT INTO "movement" VALUES(764,11,'shelf',59,105,NULL,1,-4000,-4,'used','finish',0);
INSERT INTO "movement" VALUES(765,11,'shelf',127,29,NULL,1,-2000,-960,'used','assemble',0);
INSERT INTO "movement" VALUES(766,11,'shelf',68,114,NULL,1,-2000,-64,'used','pack',0);
INSERT INTO "movement" VALUES(767,11,'shelf',71,117,NULL,1,-2000,-12,'used','pack',0);
INSERT INTO "movement" VALUES(768,11,'shelf',135,170,NULL,1,2000,2013,'made','',0);
INSERT INTO "movement" VALUES(769,11,'shelf',11,37,NULL,2,-4000,-640,'used','cut',0);
INSERT INTO "movement" VALUES(770,11,'shelf',11,38,NULL,2,-1000,-175,'used','cut',0);
INSERT INTO "movement" VALUES(771,11,'shelf',11,38,NULL,2,-2000,-350,'lost','cut',0);
INSERT INTO "movement" VALUES(772,11,'shelf',57,103,NULL,2,-8704,-6,'used','drill',0);
INSERT INTO "movement" VALUES(773,11,'shelf',57,103,NULL,2,-3483,-2,'lost','drill',0);
INSERT INTO "movement" VALUES(774,11,'shelf',1,1,NULL,2,-5000,-180,'used','glue',0);
INSERT INTO "movement" VALUES(775,11,'shelf',1,155,NULL,2,-5000,-180,'used','glue',0);
INSERT INTO "movement" VALUES(776,11,'shelf',1,155,NULL,2,-4000,-144,'lost','glue',0);
INSERT INTO "movement" VALUES(777,11,'shelf',40,86,NULL,2,-4127,-78,'used','glue',0);
INSERT INTO "movement" VALUES(778,11,'shelf',40,86,NULL,2,-1651,-31,'lost','glue',0);
INSERT INTO "movement" VALUES(779,11,'shelf',61,169,NULL,2,-3000,-12,'used','glue',0);
INSERT INTO "movement" VALUES(780,11,'shelf',61,169,NULL,2,-1200,-4,'lost','glue',0);
INSERT INTO "movement" VALUES(781,11,'shelf',42,88,NULL,2,-1000,-28,'used','turn',0);
INSERT INTO "movement" VALUES(782,11,'shelf',42,88,NULL,2,-400,-11,'lost','turn',0);
INSERT INTO "movement" VALUES(783,11,'shelf',43,89,NULL,2,-1250,-35,'used','turn',0);
INSERT INTO "movement" VALUES(784,11,'shelf',43,89,NULL,2,-500,-14,'lost','turn',0);
INSERT INTO "movement" VALUES(785,11,'shelf',44,90,NULL,2,-1250,-35,'used','turn',0);
INSERT INTO "movement" VALUES(786,11,'shelf',44,90,NULL,2,-500,-14,'lost','turn',0);
INSERT INTO "movement" VALUES(787,11,'shelf',45,91,NULL,2,-1250,-35,'used','turn',0);
INSERT INTO "movement" VALUES(788,11,'shelf',45,91,NULL,2,-500,-14,'lost','turn',0);
INSERT INTO "movement" VALUES(789,11,'shelf',36,81,NULL,NULL,-50000,-850,'opened','',0);
INSERT INTO "movement" VALUES(790,11,'shelf',36,171,NULL,NULL,50000,850,'opened','',0);
INSERT INTO "movement" VALUES(791,11,'shelf',36,171,NULL,2,-2798,-47,'used','finish',0);
INSERT INTO "movement" VALUES(792,11,'shelf',36,171,NULL,2,-559,-9,'lost','finish',0);
INSERT INTO "movement" VALUES(793,11,'shelf',37,82,NULL,2,-9791,-166,'used','finish',0);
INSERT INTO "movement" VALUES(794,11,'shelf',37,82,NULL,2,-1958,-33,'lost','finish',0);
INSERT INTO "movement" VALUES(795,11,'shelf',39,85,NULL,2,-4125,-18,'used','finish',0);
INSERT INTO "movement" VALUES(796,11,'shelf',39,85,NULL,2,-825,-3,'lost','finish',0);
INSERT INTO "movement" VALUES(797,11,'shelf',46,92,NULL,2,-2000,-70,'used','finish',0);
INSERT INTO "movement" VALUES(798,11,'shelf',46,92,NULL,2,-400,-14,'lost','finish',0);
INSERT INTO "movement" VALUES(799,11,'shelf',50,96,NULL,2,-100,-115,'used','finish',0);
INSERT INTO "movement" VALUES(800,11,'shelf',50,96,NULL,2,-20,-23,'lost','finish',0);
INSERT INTO "movement" VALUES(801,11,'shelf',59,105,NULL,2,-30000,-30,'used','finish',0);
INSERT INTO "movement" VALUES(802,11,'shelf',59,105,NULL,2,-6000,-6,'lost','finish',0);
INSERT INTO "movement" VALUES(803,11,'shelf',60,106,NULL,2,-1250,-11,'used','finish',0);
INSERT INTO "movement" VALUES(804,11,'shelf',60,106,NULL,2,-250,-2,'lost','finish',0);
INSERT INTO "movement" VALUES(805,11,'shelf',111,15,NULL,2,-3000,-1170,'used','assemble',0);
INSERT INTO "movement" VALUES(806,11,'shelf',111,152,NULL,2,-2000,-780,'used','assemble',0);
INSERT INTO "movement" VALUES(807,11,'shelf',111,152,NULL,2,-1000,-390,'lost','assemble',0);
INSERT INTO "movement" VALUES(808,11,'shelf',63,109,NULL,2,-5000,-275,'used','assemble',0);
INSERT INTO "movement" VALUES(809,11,'shelf',63,109,NULL,2,-1000,-55,'lost','assemble',0);
INSERT INTO "movement" VALUES(810,11,'shelf',68,114,NULL,2,-5000,-160,'used','pack',0);
INSERT INTO "movement" VALUES(811,11,'shelf',71,117,NULL,2,-5000,-30,'used','pack',0);
INSERT INTO "movement" VALUES(812,11,'shelf',136,172,NULL,2,5000,4276,'made','',0);
INSERT INTO "movement" VALUES(813,11,'shelf',137,173,NULL,NULL,1000,0,'saved','',0);
INSERT INTO "movement" VALUES(814,11,'shelf',12,39,NULL,7,-1000,-230,'used','cut',0);
INSERT INTO "movement" VALUES(815,11,'shelf',57,103,NULL,7,-2533,-1,'used','drill',0);
INSERT INTO "movement" VALUES(816,11,'shelf',6,6,NULL,7,-2000,-92,'used','glue',0);
INSERT INTO "movement" VALUES(817,11,'shelf',40,86,NULL,7,-1739,-33,'used','glue',0);
INSERT INTO "movement" VALUES(818,11,'shelf',61,169,NULL,7,-600,-2,'used','glue',0);
INSERT INTO "movement" VALUES(819,11,'shelf',47,93,NULL,7,-140,-9,'used','turn',0);
INSERT INTO "movement" VALUES(820,11,'shelf',48,94,NULL,7,-140,-9,'used','turn',0);
INSERT INTO "movement" VALUES(821,11,'shelf',49,95,NULL,7,-140,-9,'used','turn',0);
INSERT INTO "movement" VALUES(822,11,'shelf',36,171,NULL,7,-852,-14,'used','finish',0);
INSERT INTO "movement" VALUES(823,11,'shelf',37,82,NULL,7,-2982,-50,'used','finish',0);
INSERT INTO "movement" VALUES(824,11,'shelf',39,85,NULL,7,-950,-4,'used','finish',0);
INSERT INTO "movement" VALUES(825,11,'shelf',46,92,NULL,7,-400,-14,'used','finish',0);
INSERT INTO "movement" VALUES(826,11,'shelf',50,96,NULL,7,-40,-46,'used','finish',0);
INSERT INTO "movement" VALUES(827,11,'shelf',59,105,NULL,7,-6000,-6,'used','finish',0);
INSERT INTO "movement" VALUES(828,11,'shelf',60,106,NULL,7,-500,-4,'used','finish',0);
INSERT INTO "movement" VALUES(829,11,'shelf',117,20,NULL,7,-2000,-1520,'used','assemble',0);
INSERT INTO "movement" VALUES(830,11,'shelf',64,110,NULL,7,-2000,-180,'used','assemble',0);
INSERT INTO "movement" VALUES(831,11,'shelf',68,114,NULL,7,-2000,-64,'used','pack',0);
INSERT INTO "movement" VALUES(832,11,'shelf',71,117,NULL,7,-2000,-12,'used','pack',0);
INSERT INTO "movement" VALUES(833,11,'shelf',138,174,NULL,7,2000,2299,'made','',0);
INSERT INTO "movement" VALUES(834,11,'shelf',57,103,NULL,NULL,-43704,-30,'evaporated','',0);
INSERT INTO "movement" VALUES(835,11,'shelf',40,86,NULL,NULL,-516,-9,'weighed','',0);
INSERT INTO "movement" VALUES(836,11,'shelf',37,82,NULL,NULL,-4948,-84,'weighed','',0);
INSERT INTO "movement" VALUES(837,11,'shelf',112,16,NULL,NULL,-1000,-440,'not found','',0);
INSERT INTO "movement" VALUES(838,11,'claim',135,NULL,NULL,1,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(839,11,'claim',136,NULL,NULL,2,5000,0,'claimed','',0);
INSERT INTO "movement" VALUES(840,11,'claim',11,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(841,11,'claim',57,NULL,NULL,2,17952,0,'claimed','',0);
INSERT INTO "movement" VALUES(842,11,'claim',1,NULL,NULL,2,2000,0,'claimed','',0);
INSERT INTO "movement" VALUES(843,11,'claim',40,NULL,NULL,2,2915,0,'claimed','',0);
INSERT INTO "movement" VALUES(844,11,'claim',61,NULL,NULL,2,1754,0,'claimed','',0);
INSERT INTO "movement" VALUES(845,11,'claim',42,NULL,NULL,2,318,0,'claimed','',0);
INSERT INTO "movement" VALUES(846,11,'claim',43,NULL,NULL,2,730,0,'claimed','',0);
INSERT INTO "movement" VALUES(847,11,'claim',44,NULL,NULL,2,730,0,'claimed','',0);
INSERT INTO "movement" VALUES(848,11,'claim',45,NULL,NULL,2,730,0,'claimed','',0);
INSERT INTO "movement" VALUES(849,11,'claim',36,NULL,NULL,2,1612,0,'claimed','',0);
INSERT INTO "movement" VALUES(850,11,'claim',37,NULL,NULL,2,3871,0,'claimed','',0);
INSERT INTO "movement" VALUES(851,11,'claim',39,NULL,NULL,2,4869,0,'claimed','',0);
INSERT INTO "movement" VALUES(852,11,'claim',46,NULL,NULL,2,1153,0,'claimed','',0);
INSERT INTO "movement" VALUES(853,11,'claim',50,NULL,NULL,2,58,0,'claimed','',0);
INSERT INTO "movement" VALUES(854,11,'claim',59,NULL,NULL,2,17286,0,'claimed','',0);
INSERT INTO "movement" VALUES(855,11,'claim',60,NULL,NULL,2,6978,0,'claimed','',0);
INSERT INTO "movement" VALUES(856,11,'claim',111,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(857,11,'claim',63,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(858,11,'claim',68,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(859,11,'claim',71,NULL,NULL,2,1000,0,'claimed','',0);
INSERT INTO "movement" VALUES(860,12,'claim',135,NULL,NULL,1,-2000,0,'let go','',0);
INSERT INTO "movement" VALUES(861,12,'shelf',135,170,NULL,1,-2000,-2013,'handed over','',0);
CREATE TABLE observed (
	document_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	used BIGINT NOT NULL, 
	error BIGINT NOT NULL, 
	way VARCHAR NOT NULL, 
	CONSTRAINT pk_observed PRIMARY KEY (document_id, part_id), 
	CONSTRAINT fk_observed_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_observed_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "observed" VALUES(9,57,18518,504,'weighed twice');
INSERT INTO "observed" VALUES(9,40,9707,35,'weighed');
INSERT INTO "observed" VALUES(9,37,19679,39,'weighed');
INSERT INTO "observed" VALUES(9,42,2000,289,'used');
INSERT INTO "observed" VALUES(9,61,5700,0,'by the bill');
INSERT INTO "observed" VALUES(9,43,2500,0,'by the bill');
INSERT INTO "observed" VALUES(9,44,2500,0,'by the bill');
INSERT INTO "observed" VALUES(9,45,2500,0,'by the bill');
INSERT INTO "observed" VALUES(9,52,600,0,'by the bill');
INSERT INTO "observed" VALUES(9,51,3247,0,'by the bill');
INSERT INTO "observed" VALUES(9,53,400,0,'by the bill');
INSERT INTO "observed" VALUES(9,59,46000,0,'by the bill');
INSERT INTO "observed" VALUES(9,68,9000,0,'by the bill');
INSERT INTO "observed" VALUES(9,71,9000,0,'by the bill');
INSERT INTO "observed" VALUES(9,36,4209,0,'by the bill');
INSERT INTO "observed" VALUES(9,39,5900,0,'by the bill');
INSERT INTO "observed" VALUES(9,46,2800,0,'by the bill');
INSERT INTO "observed" VALUES(9,50,160,0,'by the bill');
INSERT INTO "observed" VALUES(9,60,2000,0,'by the bill');
INSERT INTO "observed" VALUES(9,63,6000,0,'by the bill');
INSERT INTO "observed" VALUES(9,47,140,0,'by the bill');
INSERT INTO "observed" VALUES(9,48,140,0,'by the bill');
INSERT INTO "observed" VALUES(9,49,140,0,'by the bill');
INSERT INTO "observed" VALUES(9,64,2000,0,'by the bill');
INSERT INTO "observed" VALUES(11,57,18518,504,'weighed twice');
INSERT INTO "observed" VALUES(11,40,9707,35,'weighed');
INSERT INTO "observed" VALUES(11,37,19679,39,'weighed');
INSERT INTO "observed" VALUES(11,42,2000,289,'used');
INSERT INTO "observed" VALUES(11,61,5700,0,'by the bill');
INSERT INTO "observed" VALUES(11,43,2500,0,'by the bill');
INSERT INTO "observed" VALUES(11,44,2500,0,'by the bill');
INSERT INTO "observed" VALUES(11,45,2500,0,'by the bill');
INSERT INTO "observed" VALUES(11,52,600,0,'by the bill');
INSERT INTO "observed" VALUES(11,51,3247,0,'by the bill');
INSERT INTO "observed" VALUES(11,53,400,0,'by the bill');
INSERT INTO "observed" VALUES(11,59,46000,0,'by the bill');
INSERT INTO "observed" VALUES(11,68,9000,0,'by the bill');
INSERT INTO "observed" VALUES(11,71,9000,0,'by the bill');
INSERT INTO "observed" VALUES(11,36,4209,0,'by the bill');
INSERT INTO "observed" VALUES(11,39,5900,0,'by the bill');
INSERT INTO "observed" VALUES(11,46,2800,0,'by the bill');
INSERT INTO "observed" VALUES(11,50,160,0,'by the bill');
INSERT INTO "observed" VALUES(11,60,2000,0,'by the bill');
INSERT INTO "observed" VALUES(11,63,6000,0,'by the bill');
INSERT INTO "observed" VALUES(11,47,140,0,'by the bill');
INSERT INTO "observed" VALUES(11,48,140,0,'by the bill');
INSERT INTO "observed" VALUES(11,49,140,0,'by the bill');
INSERT INTO "observed" VALUES(11,64,2000,0,'by the bill');
CREATE TABLE offer (
	id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	supplier_id INTEGER NOT NULL, 
	pack BIGINT NOT NULL, 
	code VARCHAR NOT NULL, 
	price_group VARCHAR NOT NULL, 
	seen_on DATE, at_most INTEGER, 
	CONSTRAINT pk_offer PRIMARY KEY (id), 
	CONSTRAINT fk_offer_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_offer_supplier_id_supplier FOREIGN KEY(supplier_id) REFERENCES supplier (id), 
	CONSTRAINT uq_offer_part_id_supplier_id_pack_code UNIQUE (part_id, supplier_id, pack, code)
);
INSERT INTO "offer" VALUES(1,108,1,1000,'SM-1007','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(2,108,2,1000,'OK203','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(3,108,2,10000,'OK236','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(4,108,3,10000,'FR/92','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(5,110,1,1000,'SM-1014','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(6,111,1,1000,'SM-1021','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(7,111,3,10000,'FR/94','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(8,112,1,1000,'SM-1028','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(9,113,1,1000,'SM-1035','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(10,115,1,1000,'SM-1042','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(11,114,1,1000,'SM-1049','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(12,127,1,1000,'SM-1056','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(13,127,2,5000,'OK239','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(14,128,1,1000,'SM-1063','kits','2026-11-06',NULL);
INSERT INTO "offer" VALUES(15,109,2,1000,'OK206','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(16,116,2,1000,'OK209','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(17,116,3,5000,'FR/90','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(18,117,2,1000,'OK212','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(19,118,2,1000,'OK215','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(20,129,2,1000,'OK218','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(21,130,2,1000,'OK221','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(22,131,2,1000,'OK224','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(23,132,2,1000,'OK227','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(24,121,2,1000,'OK230','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(25,121,3,1000,'FR/76','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(26,123,2,1000,'OK233','kits','2026-10-23',NULL);
INSERT INTO "offer" VALUES(27,123,3,1000,'FR/80','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(28,119,3,1000,'FR/72','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(29,120,3,1000,'FR/74','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(30,122,3,1000,'FR/78','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(31,124,3,1000,'FR/82','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(32,125,3,1000,'FR/84','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(33,133,3,1000,'FR/86','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(34,134,3,1000,'FR/88','all kits','2026-09-18',NULL);
INSERT INTO "offer" VALUES(35,1,1,10000,'SM-1070','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(36,1,1,20000,'SM-1077','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(37,2,1,10000,'SM-1084','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(38,2,1,20000,'SM-1091','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(39,3,1,10000,'SM-1098','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(40,3,1,20000,'SM-1105','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(41,4,1,10000,'SM-1112','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(42,4,1,20000,'SM-1119','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(43,5,1,10000,'SM-1126','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(44,5,1,20000,'SM-1133','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(45,6,1,10000,'SM-1140','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(46,6,1,20000,'SM-1147','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(47,6,3,100000,'FR/104','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(48,7,3,10000,'FR/96','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(49,8,3,10000,'FR/98','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(50,8,2,10000,'OK242','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(51,9,3,10000,'FR/100','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(52,9,2,10000,'OK245','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(53,10,3,10000,'FR/102','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(54,36,1,50000,'SM-1154','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(55,37,1,50000,'SM-1161','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(56,37,2,100000,'OK248','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(57,38,1,50000,'SM-1168','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(58,39,1,200000,'SM-1175','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(59,40,1,50000,'SM-1182','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(60,41,1,250000,'SM-1189','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(61,42,1,14000,'SM-1196','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(62,43,1,14000,'SM-1203','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(63,44,1,14000,'SM-1210','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(64,45,1,14000,'SM-1217','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(65,46,1,14000,'SM-1224','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(66,47,1,10000,'SM-1231','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(67,48,1,10000,'SM-1238','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(68,49,1,10000,'SM-1245','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(69,50,1,1000,'SM-1252','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(70,51,1,125000,'SM-1259','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(71,52,1,250000,'SM-1266','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(72,53,1,200000,'SM-1273','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(73,54,1,125000,'SM-1280','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(74,55,1,30000,'SM-1287','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(75,56,1,30000,'SM-1294','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(76,57,1,1000000,'SM-1301','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(77,58,1,500000,'SM-1308','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(78,59,1,200000,'SM-1315','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(79,60,1,100000,'SM-1322','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(80,61,1,100000,'SM-1329','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(81,62,1,10000,'SM-1336','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(82,62,2,5000,'OK251','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(83,63,1,10000,'SM-1343','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(84,64,1,5000,'SM-1350','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(85,64,2,20000,'OK254','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(86,65,1,2000,'SM-1357','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(87,67,1,60000,'SM-1364','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(88,68,1,50000,'SM-1371','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(89,68,2,20000,'OK272','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(90,71,1,100000,'SM-1378','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(91,66,2,5000,'OK257','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(92,69,2,1000,'OK260','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(93,70,2,1000,'OK263','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(94,72,2,5000,'OK266','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(95,73,2,10000,'OK269','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(96,76,1,1000,'SM-1385','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(97,77,1,1000,'SM-1392','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(98,78,1,1000,'SM-1399','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(99,79,1,1000,'SM-1406','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(100,80,1,1000,'SM-1413','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(101,81,1,1000,'SM-1420','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(102,82,1,1000,'SM-1427','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(103,83,1,1000,'SM-1434','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(104,84,1,1000,'SM-1441','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(105,85,1,1000,'SM-1448','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(106,86,1,1000,'SM-1455','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(107,92,1,1000,'SM-1462','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(108,95,1,1000,'SM-1469','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(109,96,1,1000,'SM-1476','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(110,97,1,1000,'SM-1483','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(111,98,1,1000,'SM-1490','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(112,99,1,1000,'SM-1497','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(113,100,1,1000,'SM-1504','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(114,101,1,1000,'SM-1511','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(115,102,1,1000,'SM-1518','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(116,103,1,1000,'SM-1525','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(117,104,1,1000,'SM-1532','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(118,105,1,1000,'SM-1539','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(119,107,1,1000,'SM-1546','','2026-11-06',NULL);
INSERT INTO "offer" VALUES(120,87,2,1000,'OK275','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(121,93,2,1000,'OK278','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(122,89,2,1000,'OK281','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(123,89,3,1000,'FR/112','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(124,90,2,1000,'OK284','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(125,90,3,1000,'FR/114','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(126,106,2,1000,'OK287','','2026-10-23',NULL);
INSERT INTO "offer" VALUES(127,88,3,1000,'FR/106','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(128,91,3,1000,'FR/108','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(129,94,3,1000,'FR/110','','2026-09-18',NULL);
INSERT INTO "offer" VALUES(130,11,4,1000,'D11','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(131,11,1,1000,'SM-1595','blanks','2026-11-06',NULL);
INSERT INTO "offer" VALUES(132,12,4,1000,'D12','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(133,12,1,1000,'SM-1602','blanks','2026-11-06',NULL);
INSERT INTO "offer" VALUES(134,13,4,1000,'D13','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(135,14,4,1000,'D14','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(136,15,4,1000,'D15','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(137,16,4,1000,'D16','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(138,18,4,1000,'D17','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(139,19,4,1000,'D18','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(140,20,4,1000,'D19','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(141,21,4,1000,'D20','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(142,22,4,1000,'D21','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(143,29,4,1000,'D22','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(144,30,4,1000,'D23','wood','2026-08-21',NULL);
INSERT INTO "offer" VALUES(145,31,4,1000,'D24','natural','2026-08-21',NULL);
INSERT INTO "offer" VALUES(146,32,4,1000,'D25','natural','2026-08-21',NULL);
INSERT INTO "offer" VALUES(147,33,4,1000,'D26','natural','2026-08-21',NULL);
INSERT INTO "offer" VALUES(148,17,4,5000,'D27','','2026-08-21',NULL);
INSERT INTO "offer" VALUES(149,23,1,1000,'SM-1553','blanks','2026-11-06',NULL);
INSERT INTO "offer" VALUES(150,24,1,1000,'SM-1560','blanks','2026-11-06',NULL);
INSERT INTO "offer" VALUES(151,25,1,1000,'SM-1567','blanks','2026-11-06',NULL);
INSERT INTO "offer" VALUES(152,26,1,1000,'SM-1574','blanks','2026-11-06',NULL);
INSERT INTO "offer" VALUES(153,27,1,1000,'SM-1581','blanks','2026-11-06',NULL);
INSERT INTO "offer" VALUES(154,28,1,1000,'SM-1588','blanks','2026-11-06',NULL);
CREATE TABLE old_name (
	of_table VARCHAR NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	number INTEGER NOT NULL, 
	CONSTRAINT pk_old_name PRIMARY KEY (of_table, "key")
);
CREATE TABLE order_plating (
	order_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	plating_id INTEGER NOT NULL, 
	CONSTRAINT pk_order_plating PRIMARY KEY (order_id, position), 
	CONSTRAINT fk_order_plating_plating_id_plating FOREIGN KEY(plating_id) REFERENCES plating (id), 
	CONSTRAINT fk_order_plating_order_id_customer_order FOREIGN KEY(order_id) REFERENCES customer_order (id)
);
INSERT INTO "order_plating" VALUES(1,0,1);
INSERT INTO "order_plating" VALUES(2,0,5);
INSERT INTO "order_plating" VALUES(2,1,6);
INSERT INTO "order_plating" VALUES(3,0,2);
INSERT INTO "order_plating" VALUES(4,0,7);
INSERT INTO "order_plating" VALUES(5,0,6);
INSERT INTO "order_plating" VALUES(6,0,6);
INSERT INTO "order_plating" VALUES(7,0,5);
CREATE TABLE order_step (
	document_id INTEGER NOT NULL, 
	order_id INTEGER NOT NULL, 
	state VARCHAR NOT NULL, handed INTEGER DEFAULT '0' NOT NULL, 
	CONSTRAINT pk_order_step PRIMARY KEY (document_id, order_id), 
	CONSTRAINT fk_order_step_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_order_step_order_id_customer_order FOREIGN KEY(order_id) REFERENCES customer_order (id)
);
INSERT INTO "order_step" VALUES(2,1,'promised',0);
INSERT INTO "order_step" VALUES(3,1,'handed over',0);
INSERT INTO "order_step" VALUES(4,1,'promised',0);
INSERT INTO "order_step" VALUES(5,2,'promised',0);
INSERT INTO "order_step" VALUES(8,7,'promised',0);
INSERT INTO "order_step" VALUES(9,7,'made',0);
INSERT INTO "order_step" VALUES(10,7,'promised',0);
INSERT INTO "order_step" VALUES(11,7,'made',0);
INSERT INTO "order_step" VALUES(12,1,'handed over',0);
CREATE TABLE outcome (
	document_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	order_id INTEGER, 
	pattern_id INTEGER NOT NULL, 
	kit_id INTEGER NOT NULL, 
	blank_id INTEGER NOT NULL, 
	refill_id INTEGER, 
	extra_diameter VARCHAR, 
	good INTEGER NOT NULL, 
	tubes_saved INTEGER NOT NULL, 
	kits_saved INTEGER NOT NULL, 
	in_part INTEGER NOT NULL, 
	CONSTRAINT pk_outcome PRIMARY KEY (document_id, position), 
	CONSTRAINT fk_outcome_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_outcome_order_id_customer_order FOREIGN KEY(order_id) REFERENCES customer_order (id), 
	CONSTRAINT fk_outcome_pattern_id_pattern FOREIGN KEY(pattern_id) REFERENCES pattern (id), 
	CONSTRAINT fk_outcome_kit_id_part FOREIGN KEY(kit_id) REFERENCES part (id), 
	CONSTRAINT fk_outcome_blank_id_part FOREIGN KEY(blank_id) REFERENCES part (id), 
	CONSTRAINT fk_outcome_refill_id_part FOREIGN KEY(refill_id) REFERENCES part (id)
);
INSERT INTO "outcome" VALUES(9,0,1,10,127,31,NULL,NULL,2,0,0,0);
INSERT INTO "outcome" VALUES(9,1,2,2,111,11,63,NULL,5,0,0,1);
INSERT INTO "outcome" VALUES(9,2,7,6,117,12,NULL,NULL,2,0,0,0);
INSERT INTO "outcome" VALUES(11,0,1,10,127,31,NULL,NULL,2,0,0,0);
INSERT INTO "outcome" VALUES(11,1,2,2,111,11,63,NULL,5,0,0,1);
INSERT INTO "outcome" VALUES(11,2,7,6,117,12,NULL,NULL,2,0,0,0);
CREATE TABLE outcome_loss (
	document_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	stage VARCHAR NOT NULL, 
	pieces INTEGER NOT NULL, 
	CONSTRAINT pk_outcome_loss PRIMARY KEY (document_id, position, stage), 
	CONSTRAINT fk_outcome_loss_document_id_document FOREIGN KEY(document_id) REFERENCES document (id)
);
INSERT INTO "outcome_loss" VALUES(9,0,'turn',1);
INSERT INTO "outcome_loss" VALUES(9,1,'turn',1);
INSERT INTO "outcome_loss" VALUES(9,1,'assemble',1);
INSERT INTO "outcome_loss" VALUES(11,0,'turn',1);
INSERT INTO "outcome_loss" VALUES(11,1,'turn',1);
INSERT INTO "outcome_loss" VALUES(11,1,'assemble',1);
CREATE TABLE part (
	id INTEGER NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	kind VARCHAR NOT NULL, 
	unit VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	level BIGINT, into_id INTEGER CONSTRAINT fk_part_into_id_part REFERENCES part (id), drawer VARCHAR DEFAULT '' NOT NULL, 
	CONSTRAINT pk_part PRIMARY KEY (id), 
	CONSTRAINT uq_part_key UNIQUE ("key")
);
INSERT INTO "part" VALUES(1,'tube 7 x 53','tube 7 x 53','tube','piece','',20000,NULL,'drawer 5');
INSERT INTO "part" VALUES(2,'tube 7 x 46 pencil','tube 7 x 46 pencil','tube','piece','',10000,NULL,'drawer 5');
INSERT INTO "part" VALUES(3,'tube ripper 57','tube ripper 57','tube','piece','',10000,NULL,'drawer 5');
INSERT INTO "part" VALUES(4,'tube 9.3 x 52','tube 9.3 x 52','tube','piece','',NULL,NULL,'drawer 5');
INSERT INTO "part" VALUES(5,'tube key ring 42','tube key ring 42','tube','piece','',NULL,NULL,'drawer 5');
INSERT INTO "part" VALUES(6,'tube 10.3 x 55.8','tube 10.3 x 55.8','tube','piece','',10000,NULL,'drawer 5');
INSERT INTO "part" VALUES(7,'tube 10.2 x 55.8','tube 10.2 x 55.8','tube','piece','',NULL,NULL,'drawer 5');
INSERT INTO "part" VALUES(8,'tube 10.15 x 53','tube 10.15 x 53','tube','piece','',4000,NULL,'drawer 5');
INSERT INTO "part" VALUES(9,'tube 12.25 x 48','tube 12.25 x 48','tube','piece','',4000,NULL,'drawer 5');
INSERT INTO "part" VALUES(10,'tube 12.8 x 58','tube 12.8 x 58','tube','piece','',NULL,NULL,'drawer 5');
INSERT INTO "part" VALUES(11,'walnut blank','walnut blank','blank','piece','',6000,NULL,'blank rack');
INSERT INTO "part" VALUES(12,'olivewood blank','olivewood blank','blank','piece','',6000,NULL,'blank rack');
INSERT INTO "part" VALUES(13,'olivewood blank wide','olivewood blank wide','blank','piece','for large hands',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(14,'ash blank','ash blank','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(15,'cherry blank','cherry blank','blank','piece','',4000,NULL,'blank rack');
INSERT INTO "part" VALUES(16,'bog oak blank','bog oak blank','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(17,'sycamore blank slim','sycamore blank slim','blank','piece','slim pens and pencils only',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(18,'iroko blank','iroko blank','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(19,'rosewood blank','rosewood blank','blank','piece','protected species: keep the document number with the lot',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(20,'elm burl blank','elm burl blank','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(21,'spalted beech blank','spalted beech blank','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(22,'thuya burl blank','thuya burl blank','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(23,'stabilised maple blue','stabilised maple blue','blank','piece','',3000,NULL,'blank rack');
INSERT INTO "part" VALUES(24,'stabilised maple red','stabilised maple red','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(25,'acrylic rod pearl','acrylic rod pearl','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(26,'acrylic rod storm grey','acrylic rod storm grey','blank','piece','',4000,NULL,'blank rack');
INSERT INTO "part" VALUES(27,'polyester rod sea swirl','polyester rod sea swirl','blank','piece','',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(28,'clear resin with shell','clear resin with shell','blank','piece','paint tube and bore',NULL,NULL,'blank rack');
INSERT INTO "part" VALUES(29,'walnut stopper block','walnut stopper block','blank','piece','',2000,NULL,'drawer 10');
INSERT INTO "part" VALUES(30,'elm burl stopper block','elm burl stopper block','blank','piece','',NULL,NULL,'drawer 10');
INSERT INTO "part" VALUES(31,'red deer antler','red deer antler','blank','piece','each one measured; dried for a year',NULL,NULL,'drawer 10');
INSERT INTO "part" VALUES(32,'buffalo horn tip','buffalo horn tip','blank','piece','each one measured',NULL,NULL,'drawer 10');
INSERT INTO "part" VALUES(33,'heather root','heather root','blank','piece','each one measured',NULL,NULL,'drawer 10');
INSERT INTO "part" VALUES(34,'elm burl offcut','elm burl offcut','blank','piece','each one measured',NULL,NULL,'drawer 10');
INSERT INTO "part" VALUES(35,'greenshank barrel olivewood tubed','Greenshank barrel olivewood tubed','blank','piece','drilled and tubed on 3 October 2026, waiting for bushings',NULL,NULL,'drawer 10');
INSERT INTO "part" VALUES(36,'ca thin','CA thin','supply','ml','',NULL,NULL,'glue tin');
INSERT INTO "part" VALUES(37,'ca medium','CA medium','supply','ml','',40000,NULL,'glue tin');
INSERT INTO "part" VALUES(38,'ca thick','CA thick','supply','ml','',NULL,NULL,'glue tin');
INSERT INTO "part" VALUES(39,'accelerator','accelerator','supply','ml','',50000,NULL,'glue tin');
INSERT INTO "part" VALUES(40,'epoxy 5-minute','epoxy 5-minute','supply','ml','',25000,NULL,'glue tin');
INSERT INTO "part" VALUES(41,'polyurethane glue','polyurethane glue','supply','ml','',NULL,NULL,'glue tin');
INSERT INTO "part" VALUES(42,'dry strip p120','dry strip P120','supply','strip','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(43,'dry strip p180','dry strip P180','supply','strip','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(44,'dry strip p240','dry strip P240','supply','strip','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(45,'dry strip p320','dry strip P320','supply','strip','',10000,NULL,'drawer 6');
INSERT INTO "part" VALUES(46,'wet strip p600','wet strip P600','supply','strip','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(47,'mesh 180 strip','mesh 180 strip','supply','strip','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(48,'mesh 240 strip','mesh 240 strip','supply','strip','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(49,'mesh 400 strip','mesh 400 strip','supply','strip','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(50,'polishing pads, fine set','polishing pads, fine set','supply','set','',NULL,NULL,'drawer 6');
INSERT INTO "part" VALUES(51,'friction polish','friction polish','supply','ml','',50000,NULL,'metal cabinet');
INSERT INTO "part" VALUES(52,'sanding sealer','sanding sealer','supply','ml','',NULL,NULL,'metal cabinet');
INSERT INTO "part" VALUES(53,'microcrystalline wax','microcrystalline wax','supply','g','',NULL,NULL,'metal cabinet');
INSERT INTO "part" VALUES(54,'hard wax oil','hard wax oil','supply','ml','',NULL,NULL,'metal cabinet');
INSERT INTO "part" VALUES(55,'tube paint white','tube paint white','supply','ml','',NULL,NULL,'metal cabinet');
INSERT INTO "part" VALUES(56,'tube paint black','tube paint black','supply','ml','',NULL,NULL,'metal cabinet');
INSERT INTO "part" VALUES(57,'denatured alcohol','denatured alcohol','supply','ml','',200000,NULL,'metal cabinet');
INSERT INTO "part" VALUES(58,'acetone','acetone','supply','ml','',NULL,NULL,'metal cabinet');
INSERT INTO "part" VALUES(59,'towel pad','towel pad','supply','piece','',50000,NULL,'');
INSERT INTO "part" VALUES(60,'nitrile glove','nitrile glove','supply','piece','',NULL,NULL,'');
INSERT INTO "part" VALUES(61,'tube plug wax','tube plug wax','supply','g','',NULL,NULL,'');
INSERT INTO "part" VALUES(62,'slim twist refill black','slim twist refill black','supply','piece','',NULL,NULL,'drawer 7');
INSERT INTO "part" VALUES(63,'slim twist refill blue','slim twist refill blue','supply','piece','',NULL,NULL,'drawer 7');
INSERT INTO "part" VALUES(64,'ball-point refill g2 black','ball-point refill G2 black','supply','piece','',4000,NULL,'drawer 7');
INSERT INTO "part" VALUES(65,'gel refill for click pens black','gel refill for click pens black','supply','piece','',5000,NULL,'drawer 7');
INSERT INTO "part" VALUES(66,'roller refill blue','roller refill blue','supply','piece','',NULL,NULL,'drawer 7');
INSERT INTO "part" VALUES(67,'pencil lead 0.7 mm','pencil lead 0.7 mm','supply','piece','',NULL,NULL,'drawer 7');
INSERT INTO "part" VALUES(68,'felt sleeve','felt sleeve','supply','piece','',10000,NULL,'drawer 8');
INSERT INTO "part" VALUES(69,'gift box single','gift box single','supply','piece','',4000,NULL,'drawer 8');
INSERT INTO "part" VALUES(70,'gift box double','gift box double','supply','piece','',NULL,NULL,'drawer 8');
INSERT INTO "part" VALUES(71,'care card','care card','supply','piece','',NULL,NULL,'drawer 8');
INSERT INTO "part" VALUES(72,'avocet clip chrome','Avocet clip chrome','supply','piece','',NULL,NULL,'drawer 9');
INSERT INTO "part" VALUES(73,'dunlin centre band chrome','Dunlin centre band chrome','supply','piece','',NULL,NULL,'drawer 9');
INSERT INTO "part" VALUES(74,'curlew kit chrome without its clip','Curlew kit chrome without its clip','supply','piece','',NULL,NULL,'drawer 9');
INSERT INTO "part" VALUES(75,'avocet fittings chrome without tube','Avocet fittings chrome without tube','supply','piece','',NULL,NULL,'drawer 9');
INSERT INTO "part" VALUES(76,'drill 7 mm','drill 7 mm','tool','piece','',1000,NULL,'drill block');
INSERT INTO "part" VALUES(77,'drill o','drill O','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(78,'drill 5/16','drill 5/16','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(79,'drill 3/8','drill 3/8','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(80,'drill 25/64','drill 25/64','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(81,'drill 10 mm','drill 10 mm','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(82,'drill 10.5 mm','drill 10.5 mm','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(83,'drill 27/64','drill 27/64','tool','piece','',1000,NULL,'drill block');
INSERT INTO "part" VALUES(84,'drill 12.5 mm','drill 12.5 mm','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(85,'drill 33/64','drill 33/64','tool','piece','',NULL,NULL,'drill block');
INSERT INTO "part" VALUES(86,'bushings dunlin','bushings Dunlin','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(87,'bushings avocet','bushings Avocet','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(88,'bushings sanderling','bushings Sanderling','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(89,'bushings curlew cap','bushings Curlew cap','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(90,'bushings curlew body','bushings Curlew body','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(91,'bushings whimbrel','bushings Whimbrel','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(92,'bushings godwit','bushings Godwit','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(93,'bushings lapwing','bushings Lapwing','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(94,'bushings greenshank','bushings Greenshank','tool','piece','',1000,NULL,'drawer 11');
INSERT INTO "part" VALUES(95,'trimmer pilot 7 mm','trimmer pilot 7 mm','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(96,'trimmer pilot o','trimmer pilot O','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(97,'trimmer pilot 3/8','trimmer pilot 3/8','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(98,'trimmer pilot 25/64','trimmer pilot 25/64','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(99,'trimmer pilot 27/64','trimmer pilot 27/64','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(100,'trimmer pilot 10.5 mm','trimmer pilot 10.5 mm','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(101,'trimmer pilot 12.5 mm','trimmer pilot 12.5 mm','tool','piece','',NULL,NULL,'drawer 11');
INSERT INTO "part" VALUES(102,'trimmer pilot 33/64','trimmer pilot 33/64','tool','piece','',1000,NULL,'drawer 11');
INSERT INTO "part" VALUES(103,'trimmer cutter head','trimmer cutter head','tool','piece','',NULL,NULL,'');
INSERT INTO "part" VALUES(104,'band saw blade','band saw blade','tool','piece','',NULL,NULL,'');
INSERT INTO "part" VALUES(105,'pen mandrel','pen mandrel','tool','piece','',NULL,NULL,'');
INSERT INTO "part" VALUES(106,'stopper stud','stopper stud','tool','piece','',NULL,NULL,'');
INSERT INTO "part" VALUES(107,'carbide insert round','carbide insert round','tool','piece','',2000,NULL,'');
INSERT INTO "part" VALUES(108,'dunlin kit chrome','Dunlin kit chrome','kit','piece','',6000,NULL,'drawer 1');
INSERT INTO "part" VALUES(109,'dunlin kit rhodium','Dunlin kit rhodium','kit','piece','',NULL,NULL,'drawer 1');
INSERT INTO "part" VALUES(110,'dunlin kit 24k gold','Dunlin kit 24k gold','kit','piece','',4000,NULL,'drawer 1');
INSERT INTO "part" VALUES(111,'dunlin kit gunmetal','Dunlin kit gunmetal','kit','piece','',NULL,NULL,'drawer 1');
INSERT INTO "part" VALUES(112,'dunlin kit black titanium','Dunlin kit black titanium','kit','piece','',NULL,NULL,'drawer 1');
INSERT INTO "part" VALUES(113,'turnstone kit chrome','Turnstone kit chrome','kit','piece','the plating customers ask for',4000,NULL,'drawer 2');
INSERT INTO "part" VALUES(114,'turnstone kit 24k gold','Turnstone kit 24k gold','kit','piece','14 came by mistake in March 2025; chrome was meant',NULL,NULL,'drawer 2');
INSERT INTO "part" VALUES(115,'turnstone kit gunmetal','Turnstone kit gunmetal','kit','piece','',NULL,NULL,'drawer 2');
INSERT INTO "part" VALUES(116,'avocet kit chrome','Avocet kit chrome','kit','piece','',6000,NULL,'drawer 2');
INSERT INTO "part" VALUES(117,'avocet kit gunmetal','Avocet kit gunmetal','kit','piece','',3000,NULL,'drawer 2');
INSERT INTO "part" VALUES(118,'avocet kit 24k gold','Avocet kit 24k gold','kit','piece','',NULL,NULL,'drawer 2');
INSERT INTO "part" VALUES(119,'sanderling kit rhodium','Sanderling kit rhodium','kit','piece','',NULL,NULL,'drawer 3');
INSERT INTO "part" VALUES(120,'sanderling kit gunmetal','Sanderling kit gunmetal','kit','piece','5 on back-order at Far Reach since 2 October 2026',NULL,NULL,'drawer 3');
INSERT INTO "part" VALUES(121,'curlew kit chrome','Curlew kit chrome','kit','piece','',1000,NULL,'drawer 3');
INSERT INTO "part" VALUES(122,'curlew kit black titanium','Curlew kit black titanium','kit','piece','',NULL,NULL,'drawer 3');
INSERT INTO "part" VALUES(123,'curlew kit gold titanium','Curlew kit gold titanium','kit','piece','',NULL,NULL,'drawer 3');
INSERT INTO "part" VALUES(124,'whimbrel kit chrome','Whimbrel kit chrome','kit','piece','',NULL,NULL,'drawer 3');
INSERT INTO "part" VALUES(125,'whimbrel kit gunmetal','Whimbrel kit gunmetal','kit','piece','',NULL,NULL,'drawer 3');
INSERT INTO "part" VALUES(126,'whimbrel kit antique copper','Whimbrel kit antique copper','kit','piece','nobody sells this plating any more',NULL,NULL,'drawer 3');
INSERT INTO "part" VALUES(127,'godwit kit chrome','Godwit kit chrome','kit','piece','',4000,NULL,'drawer 4');
INSERT INTO "part" VALUES(128,'godwit kit 24k gold','Godwit kit 24k gold','kit','piece','',NULL,NULL,'drawer 4');
INSERT INTO "part" VALUES(129,'redshank kit chrome','Redshank kit chrome','kit','piece','',5000,NULL,'drawer 4');
INSERT INTO "part" VALUES(130,'redshank kit gunmetal','Redshank kit gunmetal','kit','piece','',NULL,NULL,'drawer 4');
INSERT INTO "part" VALUES(131,'lapwing kit chrome','Lapwing kit chrome','kit','piece','',4000,NULL,'drawer 4');
INSERT INTO "part" VALUES(132,'lapwing kit gunmetal','Lapwing kit gunmetal','kit','piece','bought for one market in 2024 and not touched since',NULL,NULL,'drawer 4');
INSERT INTO "part" VALUES(133,'greenshank kit chrome','Greenshank kit chrome','kit','piece','',NULL,NULL,'drawer 4');
INSERT INTO "part" VALUES(134,'greenshank kit gunmetal','Greenshank kit gunmetal','kit','piece','',NULL,NULL,'drawer 4');
INSERT INTO "part" VALUES(135,'godwit seam ripper, of godwit kit chrome, red deer antler','Godwit seam ripper, of Godwit kit chrome, red deer antler','piece','piece','',NULL,NULL,'');
INSERT INTO "part" VALUES(136,'dunlin pen, of dunlin kit gunmetal, walnut blank, slim twist refill blue','Dunlin pen, of Dunlin kit gunmetal, walnut blank, slim twist refill blue','piece','piece','',NULL,NULL,'');
INSERT INTO "part" VALUES(137,'dunlin kit gunmetal in part','Dunlin kit gunmetal in part','supply','piece','fittings salvaged from a spoiled piece',NULL,NULL,'');
INSERT INTO "part" VALUES(138,'avocet pen, of avocet kit gunmetal, olivewood blank','Avocet pen, of Avocet kit gunmetal, olivewood blank','piece','piece','',NULL,NULL,'');
CREATE TABLE part_balance (
	part_id INTEGER NOT NULL, 
	on_hand BIGINT NOT NULL, 
	claimed BIGINT NOT NULL, 
	due_in BIGINT NOT NULL, 
	due_claimed BIGINT NOT NULL, 
	to_buy BIGINT NOT NULL, 
	to_count BOOLEAN NOT NULL, 
	CONSTRAINT pk_part_balance PRIMARY KEY (part_id), 
	CONSTRAINT ck_part_balance_shelf CHECK (claimed >= 0 AND claimed <= on_hand), 
	CONSTRAINT ck_part_balance_due CHECK (due_claimed >= 0 AND due_claimed <= due_in), 
	CONSTRAINT ck_part_balance_to_buy CHECK (to_buy >= 0), 
	CONSTRAINT fk_part_balance_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "part_balance" VALUES(1,21000,2000,0,0,0,0);
INSERT INTO "part_balance" VALUES(2,44000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(3,19000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(4,6000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(5,18000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(6,14000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(7,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(8,6000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(9,6000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(10,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(11,6000,1000,0,0,0,0);
INSERT INTO "part_balance" VALUES(12,10000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(13,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(14,12000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(15,9000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(16,6000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(17,10000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(18,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(19,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(20,6000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(21,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(22,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(23,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(24,7000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(25,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(26,7000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(27,4000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(28,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(29,4000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(30,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(31,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(32,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(33,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(34,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(35,4000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(36,67791,1612,0,0,0,0);
INSERT INTO "part_balance" VALUES(37,61321,3871,0,0,0,0);
INSERT INTO "part_balance" VALUES(38,67000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(39,204100,4869,0,0,0,0);
INSERT INTO "part_balance" VALUES(40,86293,2915,0,0,0,0);
INSERT INTO "part_balance" VALUES(41,140000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(42,12000,318,0,0,0,0);
INSERT INTO "part_balance" VALUES(43,13500,730,0,0,0,0);
INSERT INTO "part_balance" VALUES(44,12500,730,0,0,0,0);
INSERT INTO "part_balance" VALUES(45,29500,730,0,0,0,0);
INSERT INTO "part_balance" VALUES(46,21200,1153,0,0,0,0);
INSERT INTO "part_balance" VALUES(47,5860,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(48,4860,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(49,5860,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(50,1240,58,0,0,0,0);
INSERT INTO "part_balance" VALUES(51,88753,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(52,179400,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(53,159600,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(54,70000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(55,21000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(56,26000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(57,577778,17952,0,0,0,0);
INSERT INTO "part_balance" VALUES(58,300000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(59,334000,17286,0,0,0,0);
INSERT INTO "part_balance" VALUES(60,62000,6978,0,0,0,0);
INSERT INTO "part_balance" VALUES(61,64300,1754,0,0,0,0);
INSERT INTO "part_balance" VALUES(62,9000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(63,5000,1000,0,0,0,0);
INSERT INTO "part_balance" VALUES(64,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(65,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(66,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(67,60000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(68,29000,1000,0,0,0,0);
INSERT INTO "part_balance" VALUES(69,7000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(70,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(71,76000,1000,0,0,0,0);
INSERT INTO "part_balance" VALUES(72,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(73,6000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(74,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(75,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(76,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(77,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(78,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(79,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(80,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(81,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(82,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(83,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(84,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(85,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(86,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(87,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(88,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(89,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(90,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(91,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(92,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(93,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(94,0,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(95,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(96,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(97,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(98,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(99,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(100,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(101,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(102,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(103,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(104,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(105,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(106,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(107,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(108,9000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(109,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(110,5000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(111,1000,1000,0,0,0,0);
INSERT INTO "part_balance" VALUES(112,11000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(113,4000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(114,14000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(115,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(116,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(117,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(118,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(119,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(120,0,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(121,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(122,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(123,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(124,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(125,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(126,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(127,6000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(128,3000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(129,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(130,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(131,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(132,10000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(133,4000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(134,2000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(135,0,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(136,5000,5000,0,0,0,0);
INSERT INTO "part_balance" VALUES(137,1000,0,0,0,0,0);
INSERT INTO "part_balance" VALUES(138,2000,0,0,0,0,0);
CREATE TABLE pattern (
	id INTEGER NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	family_id INTEGER NOT NULL, 
	note VARCHAR NOT NULL, 
	minutes INTEGER, finish VARCHAR DEFAULT '' NOT NULL, 
	CONSTRAINT pk_pattern PRIMARY KEY (id), 
	CONSTRAINT fk_pattern_family_id_family FOREIGN KEY(family_id) REFERENCES family (id), 
	CONSTRAINT uq_pattern_key UNIQUE ("key")
);
INSERT INTO "pattern" VALUES(1,'dunlin gloss schedule','Dunlin gloss schedule',1,'a finishing schedule, taken in by the two gloss pens',NULL,'');
INSERT INTO "pattern" VALUES(2,'dunlin pen','Dunlin pen',1,'',35,'');
INSERT INTO "pattern" VALUES(3,'dunlin gift pen','Dunlin gift pen',1,'in a gift box',45,'');
INSERT INTO "pattern" VALUES(4,'dunlin clear pen','Dunlin clear pen',1,'painted tubes, for clear blanks',50,'');
INSERT INTO "pattern" VALUES(5,'turnstone pencil','Turnstone pencil',2,'',35,'');
INSERT INTO "pattern" VALUES(6,'avocet pen','Avocet pen',3,'',30,'');
INSERT INTO "pattern" VALUES(7,'sanderling pen','Sanderling pen',4,'',30,'');
INSERT INTO "pattern" VALUES(8,'curlew capped pen','Curlew capped pen',5,'',70,'');
INSERT INTO "pattern" VALUES(9,'whimbrel pen','Whimbrel pen',6,'',35,'');
INSERT INTO "pattern" VALUES(10,'godwit seam ripper','Godwit seam ripper',7,'',25,'');
INSERT INTO "pattern" VALUES(11,'redshank stopper','Redshank stopper',8,'',30,'');
INSERT INTO "pattern" VALUES(12,'lapwing key ring','Lapwing key ring',9,'',20,'');
INSERT INTO "pattern" VALUES(13,'greenshank pen','Greenshank pen',10,'',30,'');
CREATE TABLE payment (
	document_id INTEGER NOT NULL, 
	order_id INTEGER NOT NULL, 
	amount BIGINT NOT NULL, 
	CONSTRAINT pk_payment PRIMARY KEY (document_id, order_id), 
	CONSTRAINT fk_payment_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_payment_order_id_customer_order FOREIGN KEY(order_id) REFERENCES customer_order (id)
);
CREATE TABLE piece (
	part_id INTEGER NOT NULL, 
	pattern_id INTEGER NOT NULL, 
	kit_id INTEGER NOT NULL, 
	blank_id INTEGER NOT NULL, 
	refill_id INTEGER, 
	extra_diameter VARCHAR, 
	CONSTRAINT pk_piece PRIMARY KEY (part_id), 
	CONSTRAINT fk_piece_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_piece_pattern_id_pattern FOREIGN KEY(pattern_id) REFERENCES pattern (id), 
	CONSTRAINT fk_piece_kit_id_part FOREIGN KEY(kit_id) REFERENCES part (id), 
	CONSTRAINT fk_piece_blank_id_part FOREIGN KEY(blank_id) REFERENCES part (id), 
	CONSTRAINT fk_piece_refill_id_part FOREIGN KEY(refill_id) REFERENCES part (id)
);
INSERT INTO "piece" VALUES(135,10,127,31,NULL,NULL);
INSERT INTO "piece" VALUES(136,2,111,11,63,NULL);
INSERT INTO "piece" VALUES(138,6,117,12,NULL,NULL);
CREATE TABLE plating (
	id INTEGER NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	CONSTRAINT pk_plating PRIMARY KEY (id), 
	CONSTRAINT uq_plating_key UNIQUE ("key")
);
INSERT INTO "plating" VALUES(1,'chrome','chrome');
INSERT INTO "plating" VALUES(2,'rhodium','rhodium');
INSERT INTO "plating" VALUES(3,'24k gold','24k gold');
INSERT INTO "plating" VALUES(4,'gold titanium','gold titanium');
INSERT INTO "plating" VALUES(5,'gunmetal','gunmetal');
INSERT INTO "plating" VALUES(6,'black titanium','black titanium');
INSERT INTO "plating" VALUES(7,'antique copper','antique copper');
CREATE TABLE plating_substitute (
	plating_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	substitute_id INTEGER NOT NULL, 
	CONSTRAINT pk_plating_substitute PRIMARY KEY (plating_id, position), 
	CONSTRAINT fk_plating_substitute_plating_id_plating FOREIGN KEY(plating_id) REFERENCES plating (id), 
	CONSTRAINT fk_plating_substitute_substitute_id_plating FOREIGN KEY(substitute_id) REFERENCES plating (id)
);
INSERT INTO "plating_substitute" VALUES(1,0,2);
INSERT INTO "plating_substitute" VALUES(2,0,1);
INSERT INTO "plating_substitute" VALUES(3,0,4);
INSERT INTO "plating_substitute" VALUES(4,0,3);
INSERT INTO "plating_substitute" VALUES(5,0,6);
INSERT INTO "plating_substitute" VALUES(6,0,5);
CREATE TABLE price_step (
	offer_id INTEGER NOT NULL, 
	from_packs INTEGER NOT NULL, 
	price BIGINT NOT NULL, 
	CONSTRAINT pk_price_step PRIMARY KEY (offer_id, from_packs), 
	CONSTRAINT fk_price_step_offer_id_offer FOREIGN KEY(offer_id) REFERENCES offer (id)
);
INSERT INTO "price_step" VALUES(1,1,360);
INSERT INTO "price_step" VALUES(1,5,345);
INSERT INTO "price_step" VALUES(1,10,325);
INSERT INTO "price_step" VALUES(1,25,300);
INSERT INTO "price_step" VALUES(2,1,370);
INSERT INTO "price_step" VALUES(2,5,350);
INSERT INTO "price_step" VALUES(2,10,320);
INSERT INTO "price_step" VALUES(2,25,295);
INSERT INTO "price_step" VALUES(3,1,3150);
INSERT INTO "price_step" VALUES(3,3,3000);
INSERT INTO "price_step" VALUES(4,1,2600);
INSERT INTO "price_step" VALUES(4,5,2450);
INSERT INTO "price_step" VALUES(5,1,390);
INSERT INTO "price_step" VALUES(5,5,375);
INSERT INTO "price_step" VALUES(5,10,350);
INSERT INTO "price_step" VALUES(5,25,325);
INSERT INTO "price_step" VALUES(6,1,410);
INSERT INTO "price_step" VALUES(6,5,390);
INSERT INTO "price_step" VALUES(6,10,370);
INSERT INTO "price_step" VALUES(6,25,345);
INSERT INTO "price_step" VALUES(7,1,2900);
INSERT INTO "price_step" VALUES(7,5,2750);
INSERT INTO "price_step" VALUES(8,1,460);
INSERT INTO "price_step" VALUES(8,5,440);
INSERT INTO "price_step" VALUES(8,10,415);
INSERT INTO "price_step" VALUES(8,25,385);
INSERT INTO "price_step" VALUES(9,1,410);
INSERT INTO "price_step" VALUES(9,5,395);
INSERT INTO "price_step" VALUES(9,10,370);
INSERT INTO "price_step" VALUES(9,25,345);
INSERT INTO "price_step" VALUES(10,1,450);
INSERT INTO "price_step" VALUES(10,5,430);
INSERT INTO "price_step" VALUES(10,10,405);
INSERT INTO "price_step" VALUES(10,25,380);
INSERT INTO "price_step" VALUES(11,1,440);
INSERT INTO "price_step" VALUES(11,5,420);
INSERT INTO "price_step" VALUES(11,10,395);
INSERT INTO "price_step" VALUES(11,25,370);
INSERT INTO "price_step" VALUES(12,1,490);
INSERT INTO "price_step" VALUES(12,5,470);
INSERT INTO "price_step" VALUES(12,10,440);
INSERT INTO "price_step" VALUES(12,25,410);
INSERT INTO "price_step" VALUES(13,1,2340);
INSERT INTO "price_step" VALUES(14,1,520);
INSERT INTO "price_step" VALUES(14,5,500);
INSERT INTO "price_step" VALUES(14,10,470);
INSERT INTO "price_step" VALUES(14,25,435);
INSERT INTO "price_step" VALUES(15,1,480);
INSERT INTO "price_step" VALUES(15,5,460);
INSERT INTO "price_step" VALUES(15,10,430);
INSERT INTO "price_step" VALUES(15,25,400);
INSERT INTO "price_step" VALUES(16,1,770);
INSERT INTO "price_step" VALUES(16,5,740);
INSERT INTO "price_step" VALUES(16,10,700);
INSERT INTO "price_step" VALUES(16,25,640);
INSERT INTO "price_step" VALUES(17,1,3350);
INSERT INTO "price_step" VALUES(17,4,3100);
INSERT INTO "price_step" VALUES(18,1,810);
INSERT INTO "price_step" VALUES(18,5,780);
INSERT INTO "price_step" VALUES(18,10,735);
INSERT INTO "price_step" VALUES(18,25,675);
INSERT INTO "price_step" VALUES(19,1,790);
INSERT INTO "price_step" VALUES(19,5,760);
INSERT INTO "price_step" VALUES(19,10,715);
INSERT INTO "price_step" VALUES(19,25,660);
INSERT INTO "price_step" VALUES(20,1,540);
INSERT INTO "price_step" VALUES(20,5,520);
INSERT INTO "price_step" VALUES(20,10,490);
INSERT INTO "price_step" VALUES(20,25,450);
INSERT INTO "price_step" VALUES(21,1,560);
INSERT INTO "price_step" VALUES(21,5,540);
INSERT INTO "price_step" VALUES(21,10,510);
INSERT INTO "price_step" VALUES(21,25,470);
INSERT INTO "price_step" VALUES(22,1,440);
INSERT INTO "price_step" VALUES(22,5,420);
INSERT INTO "price_step" VALUES(22,10,395);
INSERT INTO "price_step" VALUES(22,25,365);
INSERT INTO "price_step" VALUES(23,1,450);
INSERT INTO "price_step" VALUES(23,5,430);
INSERT INTO "price_step" VALUES(23,10,405);
INSERT INTO "price_step" VALUES(23,25,375);
INSERT INTO "price_step" VALUES(24,1,1520);
INSERT INTO "price_step" VALUES(24,5,1460);
INSERT INTO "price_step" VALUES(24,10,1390);
INSERT INTO "price_step" VALUES(24,25,1280);
INSERT INTO "price_step" VALUES(25,1,1260);
INSERT INTO "price_step" VALUES(25,10,1200);
INSERT INTO "price_step" VALUES(25,25,1120);
INSERT INTO "price_step" VALUES(26,1,1740);
INSERT INTO "price_step" VALUES(26,5,1680);
INSERT INTO "price_step" VALUES(26,10,1590);
INSERT INTO "price_step" VALUES(26,25,1470);
INSERT INTO "price_step" VALUES(27,1,1420);
INSERT INTO "price_step" VALUES(27,10,1350);
INSERT INTO "price_step" VALUES(27,25,1260);
INSERT INTO "price_step" VALUES(28,1,840);
INSERT INTO "price_step" VALUES(28,10,790);
INSERT INTO "price_step" VALUES(28,25,740);
INSERT INTO "price_step" VALUES(29,1,820);
INSERT INTO "price_step" VALUES(29,10,770);
INSERT INTO "price_step" VALUES(29,25,720);
INSERT INTO "price_step" VALUES(30,1,1480);
INSERT INTO "price_step" VALUES(30,10,1410);
INSERT INTO "price_step" VALUES(30,25,1320);
INSERT INTO "price_step" VALUES(31,1,1020);
INSERT INTO "price_step" VALUES(31,10,970);
INSERT INTO "price_step" VALUES(31,25,900);
INSERT INTO "price_step" VALUES(32,1,1060);
INSERT INTO "price_step" VALUES(32,10,1010);
INSERT INTO "price_step" VALUES(32,25,940);
INSERT INTO "price_step" VALUES(33,1,640);
INSERT INTO "price_step" VALUES(33,10,610);
INSERT INTO "price_step" VALUES(33,25,570);
INSERT INTO "price_step" VALUES(34,1,670);
INSERT INTO "price_step" VALUES(34,10,640);
INSERT INTO "price_step" VALUES(34,25,595);
INSERT INTO "price_step" VALUES(35,1,380);
INSERT INTO "price_step" VALUES(36,1,700);
INSERT INTO "price_step" VALUES(37,1,400);
INSERT INTO "price_step" VALUES(38,1,740);
INSERT INTO "price_step" VALUES(39,1,420);
INSERT INTO "price_step" VALUES(40,1,780);
INSERT INTO "price_step" VALUES(41,1,460);
INSERT INTO "price_step" VALUES(42,1,860);
INSERT INTO "price_step" VALUES(43,1,440);
INSERT INTO "price_step" VALUES(44,1,820);
INSERT INTO "price_step" VALUES(45,1,480);
INSERT INTO "price_step" VALUES(46,1,900);
INSERT INTO "price_step" VALUES(47,1,3400);
INSERT INTO "price_step" VALUES(48,1,560);
INSERT INTO "price_step" VALUES(49,1,560);
INSERT INTO "price_step" VALUES(50,1,590);
INSERT INTO "price_step" VALUES(51,1,600);
INSERT INTO "price_step" VALUES(52,1,600);
INSERT INTO "price_step" VALUES(53,1,600);
INSERT INTO "price_step" VALUES(54,1,840);
INSERT INTO "price_step" VALUES(54,5,760);
INSERT INTO "price_step" VALUES(55,1,860);
INSERT INTO "price_step" VALUES(55,5,780);
INSERT INTO "price_step" VALUES(56,1,1490);
INSERT INTO "price_step" VALUES(57,1,860);
INSERT INTO "price_step" VALUES(57,5,780);
INSERT INTO "price_step" VALUES(58,1,890);
INSERT INTO "price_step" VALUES(59,1,940);
INSERT INTO "price_step" VALUES(60,1,960);
INSERT INTO "price_step" VALUES(61,1,400);
INSERT INTO "price_step" VALUES(62,1,400);
INSERT INTO "price_step" VALUES(63,1,410);
INSERT INTO "price_step" VALUES(64,1,430);
INSERT INTO "price_step" VALUES(65,1,490);
INSERT INTO "price_step" VALUES(66,1,700);
INSERT INTO "price_step" VALUES(67,1,700);
INSERT INTO "price_step" VALUES(68,1,700);
INSERT INTO "price_step" VALUES(69,1,1190);
INSERT INTO "price_step" VALUES(70,1,1080);
INSERT INTO "price_step" VALUES(71,1,1140);
INSERT INTO "price_step" VALUES(72,1,1480);
INSERT INTO "price_step" VALUES(73,1,1360);
INSERT INTO "price_step" VALUES(74,1,390);
INSERT INTO "price_step" VALUES(75,1,390);
INSERT INTO "price_step" VALUES(76,1,690);
INSERT INTO "price_step" VALUES(77,1,640);
INSERT INTO "price_step" VALUES(78,1,220);
INSERT INTO "price_step" VALUES(79,1,890);
INSERT INTO "price_step" VALUES(80,1,380);
INSERT INTO "price_step" VALUES(81,1,520);
INSERT INTO "price_step" VALUES(82,1,300);
INSERT INTO "price_step" VALUES(83,1,520);
INSERT INTO "price_step" VALUES(84,1,440);
INSERT INTO "price_step" VALUES(85,1,1580);
INSERT INTO "price_step" VALUES(86,1,330);
INSERT INTO "price_step" VALUES(87,1,420);
INSERT INTO "price_step" VALUES(88,1,1450);
INSERT INTO "price_step" VALUES(89,1,680);
INSERT INTO "price_step" VALUES(90,1,550);
INSERT INTO "price_step" VALUES(91,1,690);
INSERT INTO "price_step" VALUES(92,1,210);
INSERT INTO "price_step" VALUES(92,5,190);
INSERT INTO "price_step" VALUES(92,10,170);
INSERT INTO "price_step" VALUES(93,1,280);
INSERT INTO "price_step" VALUES(93,5,260);
INSERT INTO "price_step" VALUES(93,10,235);
INSERT INTO "price_step" VALUES(94,1,420);
INSERT INTO "price_step" VALUES(95,1,390);
INSERT INTO "price_step" VALUES(96,1,640);
INSERT INTO "price_step" VALUES(97,1,710);
INSERT INTO "price_step" VALUES(98,1,660);
INSERT INTO "price_step" VALUES(99,1,760);
INSERT INTO "price_step" VALUES(100,1,820);
INSERT INTO "price_step" VALUES(101,1,790);
INSERT INTO "price_step" VALUES(102,1,860);
INSERT INTO "price_step" VALUES(103,1,960);
INSERT INTO "price_step" VALUES(104,1,1120);
INSERT INTO "price_step" VALUES(105,1,1190);
INSERT INTO "price_step" VALUES(106,1,540);
INSERT INTO "price_step" VALUES(107,1,580);
INSERT INTO "price_step" VALUES(108,1,640);
INSERT INTO "price_step" VALUES(109,1,640);
INSERT INTO "price_step" VALUES(110,1,640);
INSERT INTO "price_step" VALUES(111,1,640);
INSERT INTO "price_step" VALUES(112,1,640);
INSERT INTO "price_step" VALUES(113,1,640);
INSERT INTO "price_step" VALUES(114,1,640);
INSERT INTO "price_step" VALUES(115,1,640);
INSERT INTO "price_step" VALUES(116,1,1490);
INSERT INTO "price_step" VALUES(117,1,1840);
INSERT INTO "price_step" VALUES(118,1,1990);
INSERT INTO "price_step" VALUES(119,1,640);
INSERT INTO "price_step" VALUES(120,1,660);
INSERT INTO "price_step" VALUES(121,1,580);
INSERT INTO "price_step" VALUES(122,1,820);
INSERT INTO "price_step" VALUES(123,1,680);
INSERT INTO "price_step" VALUES(124,1,820);
INSERT INTO "price_step" VALUES(125,1,680);
INSERT INTO "price_step" VALUES(126,1,990);
INSERT INTO "price_step" VALUES(127,1,690);
INSERT INTO "price_step" VALUES(128,1,740);
INSERT INTO "price_step" VALUES(129,1,690);
INSERT INTO "price_step" VALUES(130,1,180);
INSERT INTO "price_step" VALUES(130,10,170);
INSERT INTO "price_step" VALUES(130,25,155);
INSERT INTO "price_step" VALUES(131,1,210);
INSERT INTO "price_step" VALUES(131,10,195);
INSERT INTO "price_step" VALUES(132,1,260);
INSERT INTO "price_step" VALUES(132,10,245);
INSERT INTO "price_step" VALUES(132,25,225);
INSERT INTO "price_step" VALUES(133,1,290);
INSERT INTO "price_step" VALUES(133,10,270);
INSERT INTO "price_step" VALUES(134,1,440);
INSERT INTO "price_step" VALUES(134,10,410);
INSERT INTO "price_step" VALUES(134,25,380);
INSERT INTO "price_step" VALUES(135,1,130);
INSERT INTO "price_step" VALUES(135,10,120);
INSERT INTO "price_step" VALUES(135,25,110);
INSERT INTO "price_step" VALUES(136,1,170);
INSERT INTO "price_step" VALUES(136,10,160);
INSERT INTO "price_step" VALUES(136,25,145);
INSERT INTO "price_step" VALUES(137,1,640);
INSERT INTO "price_step" VALUES(137,10,600);
INSERT INTO "price_step" VALUES(137,25,560);
INSERT INTO "price_step" VALUES(138,1,190);
INSERT INTO "price_step" VALUES(138,10,180);
INSERT INTO "price_step" VALUES(138,25,165);
INSERT INTO "price_step" VALUES(139,1,720);
INSERT INTO "price_step" VALUES(139,10,690);
INSERT INTO "price_step" VALUES(139,25,650);
INSERT INTO "price_step" VALUES(140,1,600);
INSERT INTO "price_step" VALUES(140,10,570);
INSERT INTO "price_step" VALUES(140,25,530);
INSERT INTO "price_step" VALUES(141,1,360);
INSERT INTO "price_step" VALUES(141,10,340);
INSERT INTO "price_step" VALUES(141,25,310);
INSERT INTO "price_step" VALUES(142,1,780);
INSERT INTO "price_step" VALUES(142,10,740);
INSERT INTO "price_step" VALUES(142,25,690);
INSERT INTO "price_step" VALUES(143,1,280);
INSERT INTO "price_step" VALUES(143,10,260);
INSERT INTO "price_step" VALUES(143,25,240);
INSERT INTO "price_step" VALUES(144,1,760);
INSERT INTO "price_step" VALUES(144,10,720);
INSERT INTO "price_step" VALUES(144,25,680);
INSERT INTO "price_step" VALUES(145,1,680);
INSERT INTO "price_step" VALUES(145,5,620);
INSERT INTO "price_step" VALUES(146,1,480);
INSERT INTO "price_step" VALUES(146,5,440);
INSERT INTO "price_step" VALUES(147,1,320);
INSERT INTO "price_step" VALUES(147,5,290);
INSERT INTO "price_step" VALUES(148,1,520);
INSERT INTO "price_step" VALUES(149,1,890);
INSERT INTO "price_step" VALUES(149,10,828);
INSERT INTO "price_step" VALUES(150,1,890);
INSERT INTO "price_step" VALUES(150,10,828);
INSERT INTO "price_step" VALUES(151,1,420);
INSERT INTO "price_step" VALUES(151,10,391);
INSERT INTO "price_step" VALUES(152,1,420);
INSERT INTO "price_step" VALUES(152,10,391);
INSERT INTO "price_step" VALUES(153,1,680);
INSERT INTO "price_step" VALUES(153,10,632);
INSERT INTO "price_step" VALUES(154,1,1040);
INSERT INTO "price_step" VALUES(154,10,967);
CREATE TABLE purchase (
	id INTEGER NOT NULL, 
	document_id INTEGER NOT NULL, 
	supplier_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	expected_on DATE, 
	code VARCHAR NOT NULL, 
	pack BIGINT NOT NULL, 
	CONSTRAINT pk_purchase PRIMARY KEY (id), 
	CONSTRAINT fk_purchase_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_purchase_part_id_part FOREIGN KEY(part_id) REFERENCES part (id), 
	CONSTRAINT fk_purchase_supplier_id_supplier FOREIGN KEY(supplier_id) REFERENCES supplier (id)
);
INSERT INTO "purchase" VALUES(1,6,1,111,'2026-12-01','SM-1021',1000);
INSERT INTO "purchase" VALUES(2,6,1,39,'2026-12-01','SM-1175',200000);
INSERT INTO "purchase" VALUES(3,6,1,45,'2026-12-01','SM-1217',14000);
INSERT INTO "purchase" VALUES(4,6,1,1,'2026-12-01','SM-1070',10000);
INSERT INTO "purchase" VALUES(5,6,1,1,'2026-12-01','SM-1077',20000);
INSERT INTO "purchase" VALUES(6,6,1,38,'2026-12-01','SM-1168',50000);
INSERT INTO "purchase" VALUES(7,6,1,113,'2026-12-01','SM-1035',1000);
INSERT INTO "purchase" VALUES(8,6,1,83,'2026-12-01','SM-1434',1000);
INSERT INTO "purchase" VALUES(9,6,1,40,'2026-12-01','SM-1182',50000);
INSERT INTO "purchase" VALUES(10,6,1,65,'2026-12-01','SM-1357',2000);
INSERT INTO "purchase" VALUES(11,6,1,59,'2026-12-01','SM-1315',200000);
INSERT INTO "purchase" VALUES(12,6,1,102,'2026-12-01','SM-1518',1000);
CREATE TABLE rate_word (
	document_id INTEGER NOT NULL, 
	part_id INTEGER NOT NULL, 
	per VARCHAR NOT NULL, 
	word VARCHAR NOT NULL, 
	factor BIGINT NOT NULL, 
	CONSTRAINT pk_rate_word PRIMARY KEY (document_id, part_id, per), 
	CONSTRAINT fk_rate_word_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_rate_word_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
CREATE TABLE retired (
	of_table VARCHAR NOT NULL, 
	number INTEGER NOT NULL, 
	CONSTRAINT pk_retired PRIMARY KEY (of_table, number)
);
CREATE TABLE session_plan (
	session_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	order_id INTEGER NOT NULL, 
	kit_id INTEGER NOT NULL, 
	starts INTEGER NOT NULL, 
	CONSTRAINT pk_session_plan PRIMARY KEY (session_id, position), 
	CONSTRAINT fk_session_plan_session_id_making_session FOREIGN KEY(session_id) REFERENCES making_session (id), 
	CONSTRAINT fk_session_plan_order_id_customer_order FOREIGN KEY(order_id) REFERENCES customer_order (id), 
	CONSTRAINT fk_session_plan_kit_id_part FOREIGN KEY(kit_id) REFERENCES part (id)
);
INSERT INTO "session_plan" VALUES(1,0,1,127,3);
INSERT INTO "session_plan" VALUES(1,1,2,111,7);
INSERT INTO "session_plan" VALUES(1,2,7,117,2);
CREATE TABLE session_step (
	document_id INTEGER NOT NULL, 
	session_id INTEGER NOT NULL, 
	state VARCHAR NOT NULL, 
	CONSTRAINT pk_session_step PRIMARY KEY (document_id, session_id), 
	CONSTRAINT fk_session_step_document_id_document FOREIGN KEY(document_id) REFERENCES document (id), 
	CONSTRAINT fk_session_step_session_id_making_session FOREIGN KEY(session_id) REFERENCES making_session (id)
);
INSERT INTO "session_step" VALUES(8,1,'planned');
INSERT INTO "session_step" VALUES(9,1,'booked');
INSERT INTO "session_step" VALUES(10,1,'planned');
INSERT INTO "session_step" VALUES(11,1,'booked');
CREATE TABLE setting (
	"key" VARCHAR NOT NULL, 
	value VARCHAR NOT NULL, 
	CONSTRAINT pk_setting PRIMARY KEY ("key")
);
INSERT INTO "setting" VALUES('rate USD','0.92');
CREATE TABLE sheet_row (
	sheet VARCHAR NOT NULL, 
	tab VARCHAR NOT NULL, 
	"row" VARCHAR NOT NULL, 
	CONSTRAINT pk_sheet_row PRIMARY KEY (sheet, tab, "row")
);
INSERT INTO "sheet_row" VALUES('sample_stock/suppliers.csv','suppliers','driftwood and horn');
INSERT INTO "sheet_row" VALUES('sample_stock/suppliers.csv','suppliers','far reach fittings');
INSERT INTO "sheet_row" VALUES('sample_stock/suppliers.csv','suppliers','oystershell kits');
INSERT INTO "sheet_row" VALUES('sample_stock/suppliers.csv','suppliers','saltmarsh turning supplies');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','acrylic');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','ash');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','bog oak');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','buffalo horn');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','cherry');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','clear resin');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','elm burl');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','heather root');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','iroko');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','olivewood');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','polyester resin');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','red deer antler');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','rosewood');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','spalted beech');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','stabilised maple');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','sycamore');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','thuya burl');
INSERT INTO "sheet_row" VALUES('sample_stock/materials.csv','materials','walnut');
INSERT INTO "sheet_row" VALUES('sample_stock/platings.csv','platings','24k gold');
INSERT INTO "sheet_row" VALUES('sample_stock/platings.csv','platings','antique copper');
INSERT INTO "sheet_row" VALUES('sample_stock/platings.csv','platings','black titanium');
INSERT INTO "sheet_row" VALUES('sample_stock/platings.csv','platings','chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/platings.csv','platings','gold titanium');
INSERT INTO "sheet_row" VALUES('sample_stock/platings.csv','platings','gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/platings.csv','platings','rhodium');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 10.15 x 53');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 10.2 x 55.8');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 10.3 x 55.8');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 12.25 x 48');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 12.8 x 58');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 7 x 46 pencil');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 7 x 53');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube 9.3 x 52');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube key ring 42');
INSERT INTO "sheet_row" VALUES('sample_stock/tubes.csv','tubes','tube ripper 57');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','acrylic rod pearl');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','acrylic rod storm grey');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','ash blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','bog oak blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','buffalo horn tip');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','cherry blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','clear resin with shell');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','elm burl blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','elm burl offcut');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','elm burl stopper block');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','greenshank barrel olivewood tubed');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','heather root');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','iroko blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','olivewood blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','olivewood blank wide');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','polyester rod sea swirl');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','red deer antler');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','rosewood blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','spalted beech blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','stabilised maple blue');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','stabilised maple red');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','sycamore blank slim');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','thuya burl blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','walnut blank');
INSERT INTO "sheet_row" VALUES('sample_stock/blanks.csv','blanks','walnut stopper block');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','accelerator');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','acetone');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','avocet clip chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','avocet fittings chrome without tube');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','ball-point refill g2 black');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','ca medium');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','ca thick');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','ca thin');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','care card');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','curlew kit chrome without its clip');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','denatured alcohol');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','dry strip p120');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','dry strip p180');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','dry strip p240');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','dry strip p320');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','dunlin centre band chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','epoxy 5-minute');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','felt sleeve');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','friction polish');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','gel refill for click pens black');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','gift box double');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','gift box single');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','hard wax oil');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','mesh 180 strip');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','mesh 240 strip');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','mesh 400 strip');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','microcrystalline wax');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','nitrile glove');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','pencil lead 0.7 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','polishing pads, fine set');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','polyurethane glue');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','roller refill blue');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','sanding sealer');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','slim twist refill black');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','slim twist refill blue');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','towel pad');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','tube paint black');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','tube paint white');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','tube plug wax');
INSERT INTO "sheet_row" VALUES('sample_stock/supplies.csv','supplies','wet strip p600');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','band saw blade');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings avocet');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings curlew body');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings curlew cap');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings dunlin');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings godwit');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings greenshank');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings lapwing');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings sanderling');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','bushings whimbrel');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','carbide insert round');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 10 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 10.5 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 12.5 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 25/64');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 27/64');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 3/8');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 33/64');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 5/16');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill 7 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','drill o');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','pen mandrel');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','stopper stud');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer cutter head');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot 10.5 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot 12.5 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot 25/64');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot 27/64');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot 3/8');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot 33/64');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot 7 mm');
INSERT INTO "sheet_row" VALUES('sample_stock/tools.csv','tools','trimmer pilot o');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','avocet');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','curlew');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','dunlin');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','godwit');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','greenshank');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','lapwing');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','redshank');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','sanderling');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','turnstone');
INSERT INTO "sheet_row" VALUES('sample_stock/families.csv','families','whimbrel');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','avocet kit 24k gold');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','avocet kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','avocet kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','curlew kit black titanium');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','curlew kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','curlew kit gold titanium');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','dunlin kit 24k gold');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','dunlin kit black titanium');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','dunlin kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','dunlin kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','dunlin kit rhodium');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','godwit kit 24k gold');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','godwit kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','greenshank kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','greenshank kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','lapwing kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','lapwing kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','redshank kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','redshank kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','sanderling kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','sanderling kit rhodium');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','turnstone kit 24k gold');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','turnstone kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','turnstone kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','whimbrel kit antique copper');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','whimbrel kit chrome');
INSERT INTO "sheet_row" VALUES('sample_stock/kits.csv','kits','whimbrel kit gunmetal');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','avocet pen');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','curlew capped pen');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','dunlin clear pen');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','dunlin gift pen');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','dunlin gloss schedule');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','dunlin pen');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','godwit seam ripper');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','greenshank pen');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','lapwing key ring');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','redshank stopper');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','sanderling pen');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','turnstone pencil');
INSERT INTO "sheet_row" VALUES('sample_stock/patterns.csv','patterns','whimbrel pen');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornash blank1000d14');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornbog oak blank1000d16');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornbuffalo horn tip1000d25');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and horncherry blank1000d15');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornelm burl blank1000d19');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornelm burl stopper block1000d23');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornheather root1000d26');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and horniroko blank1000d17');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornolivewood blank1000d12');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornolivewood blank wide1000d13');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornred deer antler1000d24');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornrosewood blank1000d18');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornspalted beech blank1000d20');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornsycamore blank slim5000d27');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornthuya burl blank1000d21');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornwalnut blank1000d11');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','driftwood and hornwalnut stopper block1000d22');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsavocet kit chrome5000fr/90');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsbushings curlew body1000fr/114');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsbushings curlew cap1000fr/112');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsbushings greenshank1000fr/110');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsbushings sanderling1000fr/106');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsbushings whimbrel1000fr/108');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingscurlew kit black titanium1000fr/78');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingscurlew kit chrome1000fr/76');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingscurlew kit gold titanium1000fr/80');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsdunlin kit chrome10000fr/92');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsdunlin kit gunmetal10000fr/94');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsgreenshank kit chrome1000fr/86');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingsgreenshank kit gunmetal1000fr/88');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingssanderling kit gunmetal1000fr/74');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingssanderling kit rhodium1000fr/72');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingstube 10.15 x 5310000fr/98');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingstube 10.2 x 55.810000fr/96');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingstube 10.3 x 55.8100000fr/104');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingstube 12.25 x 4810000fr/100');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingstube 12.8 x 5810000fr/102');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingswhimbrel kit chrome1000fr/82');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','far reach fittingswhimbrel kit gunmetal1000fr/84');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsavocet clip chrome5000ok266');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsavocet kit 24k gold1000ok215');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsavocet kit chrome1000ok209');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsavocet kit gunmetal1000ok212');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsball-point refill g2 black20000ok254');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsbushings avocet1000ok275');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsbushings curlew body1000ok284');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsbushings curlew cap1000ok281');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsbushings lapwing1000ok278');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsca medium100000ok248');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitscurlew kit chrome1000ok230');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitscurlew kit gold titanium1000ok233');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsdunlin centre band chrome10000ok269');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsdunlin kit chrome1000ok203');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsdunlin kit chrome10000ok236');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsdunlin kit rhodium1000ok206');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsfelt sleeve20000ok272');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsgift box double1000ok263');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsgift box single1000ok260');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsgodwit kit chrome5000ok239');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitslapwing kit chrome1000ok224');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitslapwing kit gunmetal1000ok227');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsredshank kit chrome1000ok218');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsredshank kit gunmetal1000ok221');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsroller refill blue5000ok257');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsslim twist refill black5000ok251');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitsstopper stud1000ok287');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitstube 10.15 x 5310000ok242');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','oystershell kitstube 12.25 x 4810000ok245');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesaccelerator200000sm-1175');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesacetone500000sm-1308');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesacrylic rod pearl1000sm-1567');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesacrylic rod storm grey1000sm-1574');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesball-point refill g2 black5000sm-1350');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesband saw blade1000sm-1532');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesbushings dunlin1000sm-1455');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesbushings godwit1000sm-1462');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesca medium50000sm-1161');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesca thick50000sm-1168');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesca thin50000sm-1154');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliescarbide insert round1000sm-1546');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliescare card100000sm-1378');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesclear resin with shell1000sm-1588');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdenatured alcohol1000000sm-1301');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 10 mm1000sm-1420');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 10.5 mm1000sm-1427');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 12.5 mm1000sm-1441');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 25/641000sm-1413');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 27/641000sm-1434');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 3/81000sm-1406');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 33/641000sm-1448');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 5/161000sm-1399');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill 7 mm1000sm-1385');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdrill o1000sm-1392');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdry strip p12014000sm-1196');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdry strip p18014000sm-1203');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdry strip p24014000sm-1210');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdry strip p32014000sm-1217');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdunlin kit 24k gold1000sm-1014');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdunlin kit black titanium1000sm-1028');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdunlin kit chrome1000sm-1007');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesdunlin kit gunmetal1000sm-1021');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesepoxy 5-minute50000sm-1182');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesfelt sleeve50000sm-1371');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesfriction polish125000sm-1259');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesgel refill for click pens black2000sm-1357');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesgodwit kit 24k gold1000sm-1063');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesgodwit kit chrome1000sm-1056');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning supplieshard wax oil125000sm-1280');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesmesh 180 strip10000sm-1231');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesmesh 240 strip10000sm-1238');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesmesh 400 strip10000sm-1245');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesmicrocrystalline wax200000sm-1273');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesnitrile glove100000sm-1322');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesolivewood blank1000sm-1602');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliespen mandrel1000sm-1539');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliespencil lead 0.7 mm60000sm-1364');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliespolishing pads, fine set1000sm-1252');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliespolyester rod sea swirl1000sm-1581');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliespolyurethane glue250000sm-1189');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliessanding sealer250000sm-1266');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesslim twist refill black10000sm-1336');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesslim twist refill blue10000sm-1343');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesstabilised maple blue1000sm-1553');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesstabilised maple red1000sm-1560');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestowel pad200000sm-1315');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer cutter head1000sm-1525');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot 10.5 mm1000sm-1504');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot 12.5 mm1000sm-1511');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot 25/641000sm-1490');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot 27/641000sm-1497');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot 3/81000sm-1483');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot 33/641000sm-1518');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot 7 mm1000sm-1469');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestrimmer pilot o1000sm-1476');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 10.3 x 55.810000sm-1140');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 10.3 x 55.820000sm-1147');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 7 x 46 pencil10000sm-1084');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 7 x 46 pencil20000sm-1091');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 7 x 5310000sm-1070');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 7 x 5320000sm-1077');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 9.3 x 5210000sm-1112');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube 9.3 x 5220000sm-1119');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube key ring 4210000sm-1126');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube key ring 4220000sm-1133');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube paint black30000sm-1294');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube paint white30000sm-1287');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube plug wax100000sm-1329');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube ripper 5710000sm-1098');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliestube ripper 5720000sm-1105');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesturnstone kit 24k gold1000sm-1049');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesturnstone kit chrome1000sm-1035');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning suppliesturnstone kit gunmetal1000sm-1042');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning supplieswalnut blank1000sm-1595');
INSERT INTO "sheet_row" VALUES('sample_stock/offers.csv','offers','saltmarsh turning supplieswet strip p60014000sm-1224');
INSERT INTO "sheet_row" VALUES('sample_stock/orders.csv','orders','s41');
INSERT INTO "sheet_row" VALUES('sample_stock/orders.csv','orders','s42');
INSERT INTO "sheet_row" VALUES('sample_stock/orders.csv','orders','s43');
INSERT INTO "sheet_row" VALUES('sample_stock/orders.csv','orders','s44');
INSERT INTO "sheet_row" VALUES('sample_stock/orders.csv','orders','s45');
INSERT INTO "sheet_row" VALUES('sample_stock/orders.csv','orders','s46');
CREATE TABLE shop (
	id INTEGER NOT NULL, 
	version BIGINT NOT NULL, 
	currency VARCHAR NOT NULL, 
	program VARCHAR NOT NULL, mark VARCHAR DEFAULT '' NOT NULL, 
	CONSTRAINT pk_shop PRIMARY KEY (id), 
	CONSTRAINT ck_shop_one_row CHECK (id = 1)
);
INSERT INTO "shop" VALUES(1,12,'EUR','0.1.0','7e454488821f');
CREATE TABLE supplier (
	id INTEGER NOT NULL, 
	"key" VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	lead_days INTEGER, 
	postage BIGINT NOT NULL, 
	free_from BIGINT, 
	minimum_order BIGINT, 
	currency VARCHAR NOT NULL, 
	email VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	CONSTRAINT pk_supplier PRIMARY KEY (id), 
	CONSTRAINT uq_supplier_key UNIQUE ("key")
);
INSERT INTO "supplier" VALUES(1,'saltmarsh turning supplies','Saltmarsh Turning Supplies',3,590,6000,NULL,'','orders@saltmarsh.example.com','posts the same day before noon');
INSERT INTO "supplier" VALUES(2,'oystershell kits','Oystershell Kits',5,450,7500,NULL,'','hello@oystershell.example.com','kits may be mixed for the price steps');
INSERT INTO "supplier" VALUES(3,'far reach fittings','Far Reach Fittings',25,2400,25000,NULL,'USD','sales@farreach.example.com','overseas; prices in US dollars; 5 Sanderling kits in gunmetal on back-order since 2 October 2026: ask before ordering them again');
INSERT INTO "supplier" VALUES(4,'driftwood and horn','Driftwood and Horn',7,850,NULL,2500,'','yard@driftwood.example.com','blanks only; writes the species on every invoice');
CREATE TABLE supply (
	part_id INTEGER NOT NULL, 
	type VARCHAR NOT NULL, 
	net BIGINT, 
	tare BIGINT, 
	keeps_sealed INTEGER, 
	keeps_opened INTEGER, 
	hazards VARCHAR NOT NULL, 
	density VARCHAR, works INTEGER, usual VARCHAR DEFAULT '[]' NOT NULL, 
	CONSTRAINT pk_supply PRIMARY KEY (part_id), 
	CONSTRAINT fk_supply_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "supply" VALUES(36,'adhesive',50000,12400,300,90,'["H315", "H319", "H335", "EUH202"]','21/20',NULL,'[]');
INSERT INTO "supply" VALUES(37,'adhesive',50000,12400,300,90,'["H315", "H319", "H335", "EUH202"]','53/50',NULL,'[]');
INSERT INTO "supply" VALUES(38,'adhesive',50000,12400,300,90,'["H315", "H319", "H335", "EUH202"]','27/25',NULL,'[]');
INSERT INTO "supply" VALUES(39,'adhesive',200000,38000,730,540,'["H225", "H319", "H336"]','79/100',NULL,'[]');
INSERT INTO "supply" VALUES(40,'adhesive',50000,21000,730,365,'["H315", "H317", "H319", "H411", "EUH205"]','29/25',5,'[]');
INSERT INTO "supply" VALUES(41,'adhesive',250000,32000,300,150,'["H315", "H317", "H319", "H334", "H335", "H351", "EUH204"]','28/25',NULL,'[]');
INSERT INTO "supply" VALUES(42,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(43,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(44,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(45,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(46,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(47,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(48,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(49,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(50,'abrasive',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(51,'finish',125000,28000,1095,730,'["H225", "H319"]','43/50',NULL,'[]');
INSERT INTO "supply" VALUES(52,'finish',250000,41000,730,365,'["H225", "H336"]','9/10',NULL,'[]');
INSERT INTO "supply" VALUES(53,'finish',200000,45000,1825,1095,'["H226"]','81/100',NULL,'[]');
INSERT INTO "supply" VALUES(54,'finish',125000,26000,1095,180,'["EUH066"]','93/100',NULL,'[]');
INSERT INTO "supply" VALUES(55,'finish',30000,18000,1095,365,'[]','6/5',NULL,'[]');
INSERT INTO "supply" VALUES(56,'finish',30000,18000,1095,365,'[]','59/50',NULL,'[]');
INSERT INTO "supply" VALUES(57,'solvent',1000000,62000,1825,1095,'["H225", "H319"]','81/100',NULL,'[]');
INSERT INTO "supply" VALUES(58,'solvent',500000,55000,1825,1095,'["H225", "H319", "H336", "EUH066"]','79/100',NULL,'[]');
INSERT INTO "supply" VALUES(59,'sundry',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(60,'sundry',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(61,'sundry',100000,6000,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(62,'refill',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(63,'refill',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(64,'refill',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(65,'refill',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(66,'refill',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(67,'refill',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(68,'packaging',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(69,'packaging',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(70,'packaging',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(71,'packaging',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(72,'spare fitting',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(73,'spare fitting',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(74,'spare fitting',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(75,'spare fitting',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
INSERT INTO "supply" VALUES(137,'spare fitting',NULL,NULL,NULL,NULL,'[]',NULL,NULL,'[]');
CREATE TABLE tool (
	part_id INTEGER NOT NULL, 
	type VARCHAR NOT NULL, 
	size VARCHAR NOT NULL, 
	life BIGINT, 
	CONSTRAINT pk_tool PRIMARY KEY (part_id), 
	CONSTRAINT fk_tool_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "tool" VALUES(76,'drill','7 mm',300);
INSERT INTO "tool" VALUES(77,'drill','O',300);
INSERT INTO "tool" VALUES(78,'drill','5/16',300);
INSERT INTO "tool" VALUES(79,'drill','3/8',300);
INSERT INTO "tool" VALUES(80,'drill','25/64',300);
INSERT INTO "tool" VALUES(81,'drill','10 mm',300);
INSERT INTO "tool" VALUES(82,'drill','10.5 mm',300);
INSERT INTO "tool" VALUES(83,'drill','27/64',300);
INSERT INTO "tool" VALUES(84,'drill','12.5 mm',250);
INSERT INTO "tool" VALUES(85,'drill','33/64',250);
INSERT INTO "tool" VALUES(86,'bushings','8.4 mm',50);
INSERT INTO "tool" VALUES(87,'bushings','11.9 mm',50);
INSERT INTO "tool" VALUES(88,'bushings','11.6 mm',50);
INSERT INTO "tool" VALUES(89,'bushings','14.6 mm',50);
INSERT INTO "tool" VALUES(90,'bushings','12.2 mm',50);
INSERT INTO "tool" VALUES(91,'bushings','15.4 mm',50);
INSERT INTO "tool" VALUES(92,'bushings','11.2 mm',50);
INSERT INTO "tool" VALUES(93,'bushings','12 mm',50);
INSERT INTO "tool" VALUES(94,'bushings','11.3 mm',50);
INSERT INTO "tool" VALUES(95,'trimmer pilot','7 mm',NULL);
INSERT INTO "tool" VALUES(96,'trimmer pilot','O',NULL);
INSERT INTO "tool" VALUES(97,'trimmer pilot','3/8',NULL);
INSERT INTO "tool" VALUES(98,'trimmer pilot','25/64',NULL);
INSERT INTO "tool" VALUES(99,'trimmer pilot','27/64',NULL);
INSERT INTO "tool" VALUES(100,'trimmer pilot','10.5 mm',NULL);
INSERT INTO "tool" VALUES(101,'trimmer pilot','12.5 mm',NULL);
INSERT INTO "tool" VALUES(102,'trimmer pilot','33/64',NULL);
INSERT INTO "tool" VALUES(103,'trimmer','3/4 in',35);
INSERT INTO "tool" VALUES(104,'saw','1.6 mm',400);
INSERT INTO "tool" VALUES(105,'mandrel','7 mm',NULL);
INSERT INTO "tool" VALUES(106,'mandrel','5/16',NULL);
INSERT INTO "tool" VALUES(107,'insert','',60);
CREATE TABLE tube (
	part_id INTEGER NOT NULL, 
	outside VARCHAR NOT NULL, 
	length VARCHAR NOT NULL, 
	drill VARCHAR NOT NULL, usual VARCHAR DEFAULT '[]' NOT NULL, 
	CONSTRAINT pk_tube PRIMARY KEY (part_id), 
	CONSTRAINT fk_tube_part_id_part FOREIGN KEY(part_id) REFERENCES part (id)
);
INSERT INTO "tube" VALUES(1,'6.85 mm','53 mm','7 mm','[]');
INSERT INTO "tube" VALUES(2,'6.85 mm','46 mm','7 mm','[]');
INSERT INTO "tube" VALUES(3,'7.8 mm','57 mm','O','[]');
INSERT INTO "tube" VALUES(4,'9.3 mm','52 mm','3/8','[]');
INSERT INTO "tube" VALUES(5,'9.9 mm','42 mm','25/64','[]');
INSERT INTO "tube" VALUES(6,'10.3 mm','55.8 mm','27/64','[]');
INSERT INTO "tube" VALUES(7,'10.2 mm','55.8 mm','10.5 mm','[]');
INSERT INTO "tube" VALUES(8,'10.15 mm','53 mm','10.5 mm','[]');
INSERT INTO "tube" VALUES(9,'12.25 mm','48 mm','12.5 mm','[]');
INSERT INTO "tube" VALUES(10,'12.8 mm','58 mm','33/64','[]');
CREATE UNIQUE INDEX ux_document_reverses ON document (reverses);
CREATE INDEX ix_lot_balance_open ON lot_balance (part_id) WHERE quantity > 0;
CREATE INDEX ix_due_balance_open ON due_balance (part_id) WHERE quantity > 0;
CREATE INDEX ix_kit_family_id ON kit (family_id);
CREATE INDEX ix_lot_part_id ON lot (part_id);
CREATE INDEX ix_doubt_part_id ON doubt (part_id);
CREATE TRIGGER document_no_update BEFORE UPDATE ON document BEGIN SELECT RAISE(ABORT, 'rows of document are never changed'); END;
CREATE TRIGGER document_no_delete BEFORE DELETE ON document BEGIN SELECT RAISE(ABORT, 'rows of document are never changed'); END;
CREATE TRIGGER document_no_replace BEFORE INSERT ON document WHEN EXISTS (SELECT 1 FROM document WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'rows of document are never changed'); END;
CREATE TRIGGER lot_no_update BEFORE UPDATE ON lot BEGIN SELECT RAISE(ABORT, 'rows of lot are never changed'); END;
CREATE TRIGGER lot_no_delete BEFORE DELETE ON lot BEGIN SELECT RAISE(ABORT, 'rows of lot are never changed'); END;
CREATE TRIGGER lot_no_replace BEFORE INSERT ON lot WHEN EXISTS (SELECT 1 FROM lot WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'rows of lot are never changed'); END;
CREATE TRIGGER purchase_no_update BEFORE UPDATE ON purchase BEGIN SELECT RAISE(ABORT, 'rows of purchase are never changed'); END;
CREATE TRIGGER purchase_no_delete BEFORE DELETE ON purchase BEGIN SELECT RAISE(ABORT, 'rows of purchase are never changed'); END;
CREATE TRIGGER purchase_no_replace BEFORE INSERT ON purchase WHEN EXISTS (SELECT 1 FROM purchase WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'rows of purchase are never changed'); END;
CREATE TRIGGER doubt_no_update BEFORE UPDATE ON doubt BEGIN SELECT RAISE(ABORT, 'rows of doubt are never changed'); END;
CREATE TRIGGER doubt_no_delete BEFORE DELETE ON doubt BEGIN SELECT RAISE(ABORT, 'rows of doubt are never changed'); END;
CREATE TRIGGER doubt_no_replace BEFORE INSERT ON doubt WHEN EXISTS (SELECT 1 FROM doubt WHERE document_id = NEW.document_id AND part_id = NEW.part_id) BEGIN SELECT RAISE(ABORT, 'rows of doubt are never changed'); END;
CREATE TRIGGER session_step_no_update BEFORE UPDATE ON session_step BEGIN SELECT RAISE(ABORT, 'rows of session_step are never changed'); END;
CREATE TRIGGER session_step_no_delete BEFORE DELETE ON session_step BEGIN SELECT RAISE(ABORT, 'rows of session_step are never changed'); END;
CREATE TRIGGER session_step_no_replace BEFORE INSERT ON session_step WHEN EXISTS (SELECT 1 FROM session_step WHERE document_id = NEW.document_id AND session_id = NEW.session_id) BEGIN SELECT RAISE(ABORT, 'rows of session_step are never changed'); END;
CREATE TRIGGER outcome_loss_no_update BEFORE UPDATE ON outcome_loss BEGIN SELECT RAISE(ABORT, 'rows of outcome_loss are never changed'); END;
CREATE TRIGGER outcome_loss_no_delete BEFORE DELETE ON outcome_loss BEGIN SELECT RAISE(ABORT, 'rows of outcome_loss are never changed'); END;
CREATE TRIGGER outcome_loss_no_replace BEFORE INSERT ON outcome_loss WHEN EXISTS (SELECT 1 FROM outcome_loss WHERE document_id = NEW.document_id AND position = NEW.position AND stage = NEW.stage) BEGIN SELECT RAISE(ABORT, 'rows of outcome_loss are never changed'); END;
CREATE TRIGGER observed_no_update BEFORE UPDATE ON observed BEGIN SELECT RAISE(ABORT, 'rows of observed are never changed'); END;
CREATE TRIGGER observed_no_delete BEFORE DELETE ON observed BEGIN SELECT RAISE(ABORT, 'rows of observed are never changed'); END;
CREATE TRIGGER observed_no_replace BEFORE INSERT ON observed WHEN EXISTS (SELECT 1 FROM observed WHERE document_id = NEW.document_id AND part_id = NEW.part_id) BEGIN SELECT RAISE(ABORT, 'rows of observed are never changed'); END;
CREATE TRIGGER rate_word_no_update BEFORE UPDATE ON rate_word BEGIN SELECT RAISE(ABORT, 'rows of rate_word are never changed'); END;
CREATE TRIGGER rate_word_no_delete BEFORE DELETE ON rate_word BEGIN SELECT RAISE(ABORT, 'rows of rate_word are never changed'); END;
CREATE TRIGGER rate_word_no_replace BEFORE INSERT ON rate_word WHEN EXISTS (SELECT 1 FROM rate_word WHERE document_id = NEW.document_id AND part_id = NEW.part_id AND per = NEW.per) BEGIN SELECT RAISE(ABORT, 'rows of rate_word are never changed'); END;
CREATE INDEX ix_order_step_order_id ON order_step (order_id);
CREATE TRIGGER order_step_no_update BEFORE UPDATE ON order_step BEGIN SELECT RAISE(ABORT, 'rows of order_step are never changed'); END;
CREATE TRIGGER order_step_no_delete BEFORE DELETE ON order_step BEGIN SELECT RAISE(ABORT, 'rows of order_step are never changed'); END;
CREATE TRIGGER order_step_no_replace BEFORE INSERT ON order_step WHEN EXISTS (SELECT 1 FROM order_step WHERE document_id = NEW.document_id AND order_id = NEW.order_id) BEGIN SELECT RAISE(ABORT, 'rows of order_step are never changed'); END;
CREATE INDEX ix_claim_balance_order_id ON claim_balance (order_id);
CREATE TRIGGER session_plan_no_update BEFORE UPDATE ON session_plan BEGIN SELECT RAISE(ABORT, 'rows of session_plan are never changed'); END;
CREATE TRIGGER session_plan_no_delete BEFORE DELETE ON session_plan BEGIN SELECT RAISE(ABORT, 'rows of session_plan are never changed'); END;
CREATE TRIGGER session_plan_no_replace BEFORE INSERT ON session_plan WHEN EXISTS (SELECT 1 FROM session_plan WHERE session_id = NEW.session_id AND position = NEW.position) BEGIN SELECT RAISE(ABORT, 'rows of session_plan are never changed'); END;
CREATE TRIGGER outcome_no_update BEFORE UPDATE ON outcome BEGIN SELECT RAISE(ABORT, 'rows of outcome are never changed'); END;
CREATE TRIGGER outcome_no_delete BEFORE DELETE ON outcome BEGIN SELECT RAISE(ABORT, 'rows of outcome are never changed'); END;
CREATE TRIGGER outcome_no_replace BEFORE INSERT ON outcome WHEN EXISTS (SELECT 1 FROM outcome WHERE document_id = NEW.document_id AND position = NEW.position) BEGIN SELECT RAISE(ABORT, 'rows of outcome are never changed'); END;
CREATE INDEX ix_movement_document_id ON movement (document_id);
CREATE INDEX ix_movement_part_id_account ON movement (part_id, account);
CREATE TRIGGER movement_no_update BEFORE UPDATE ON movement BEGIN SELECT RAISE(ABORT, 'rows of movement are never changed'); END;
CREATE TRIGGER movement_no_delete BEFORE DELETE ON movement BEGIN SELECT RAISE(ABORT, 'rows of movement are never changed'); END;
CREATE TRIGGER movement_no_replace BEFORE INSERT ON movement WHEN EXISTS (SELECT 1 FROM movement WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'rows of movement are never changed'); END;
CREATE INDEX ix_changed_row_of_table_row_key ON changed_row (of_table, row_key);
CREATE INDEX ix_payment_order_id ON payment (order_id);
CREATE TRIGGER changed_row_no_update BEFORE UPDATE ON changed_row BEGIN SELECT RAISE(ABORT, 'rows of changed_row are never changed'); END;
CREATE TRIGGER changed_row_no_delete BEFORE DELETE ON changed_row BEGIN SELECT RAISE(ABORT, 'rows of changed_row are never changed'); END;
CREATE TRIGGER changed_row_no_replace BEFORE INSERT ON changed_row WHEN EXISTS (SELECT 1 FROM changed_row WHERE document_id = NEW.document_id AND position = NEW.position) BEGIN SELECT RAISE(ABORT, 'rows of changed_row are never changed'); END;
CREATE TRIGGER payment_no_update BEFORE UPDATE ON payment BEGIN SELECT RAISE(ABORT, 'rows of payment are never changed'); END;
CREATE TRIGGER payment_no_delete BEFORE DELETE ON payment BEGIN SELECT RAISE(ABORT, 'rows of payment are never changed'); END;
CREATE TRIGGER payment_no_replace BEFORE INSERT ON payment WHEN EXISTS (SELECT 1 FROM payment WHERE document_id = NEW.document_id AND order_id = NEW.order_id) BEGIN SELECT RAISE(ABORT, 'rows of payment are never changed'); END;
COMMIT;
