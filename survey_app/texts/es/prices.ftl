## Lo que cuesta un calentador nuevo: una sola tabla, con las mismas palabras en todas partes.

price-complete = "Completo" es el trabajo que toda casa necesita: el calentador, la mano de obra, el permiso, llevarse el viejo, líneas de agua, válvula de drenaje, válvula de alivio, la conexión de gas o luz, la revisión de la chimenea, trabajo menor de código, impuesto. Lo que solo algunas casas necesitan va aparte: bandeja con desagüe, tanque de expansión, alarma de fugas, trabajo en un ático o arriba.
price-size-usual = de hasta 55 galones (208 litros)
price-size-large = de más de 55 galones (208 litros)
price-line = { $heater }: completo y planeado, unos **{ $usual }**, de { $low } a { $high } ({ $basis }).
price-line-one = { $heater }: completo y planeado, unos **{ $usual }** ({ $basis }).
price-basis-here = precio de aquí, de { $year }
price-basis-here-undated = precio de aquí
price-basis-from-here = nuestro cálculo, por el precio de aquí de { $year } para uno menor
price-basis-from-here-undated = nuestro cálculo, por el precio de aquí para uno menor
price-basis-national = cifra nacional de { $year }
price-basis-from-national = nuestro cálculo, por la cifra nacional de { $year } para uno menor
price-basis-assumed-undated = un supuesto: no hay cifra pública
price-not-here = No es un precio de aquí. Los precios cambian mucho de un lugar a otro.
price-source-here = De ofertas o facturas que la comunidad puso.
price-source-assumed = Un supuesto sin fuente. No se halló ninguna cifra pública.
price-source-national-gas-storage = El precio usual: NREL, Buildings Annual Technology Baseline, en dólares de 2023, según los datos abiertos de un laboratorio del Departamento de Energía de EE. UU. El bajo y el alto: registros de programas de dos condados caros.
price-source-national-electric-storage = El precio usual: NREL, Buildings Annual Technology Baseline, en dólares de 2023, según los datos abiertos de un laboratorio del Departamento de Energía de EE. UU. El bajo y el alto son supuestos sin fuente.
price-source-national-heat-pump-storage = El precio usual: NREL, Buildings Annual Technology Baseline, de uno eficiente, en dólares de 2023, según los datos abiertos de un laboratorio del Departamento de Energía de EE. UU. El bajo: el más sencillo. El alto: registros de programas de dos condados caros.
price-besides-certain = Lo que su casa necesita además: { $usd }.
price-besides-possible = Lo que puede necesitar (falta una respuesta): { $usd }.
price-besides-assumed = Estas sumas por extras son supuestos.
price-quoted-extras = Sobre el precio igual para todos, esta oferta cuenta para su casa: { $quoted } cotizados, { $assumed } supuestos, y { $possible } que tal vez no necesite.
price-default-to-blame = El precio por su cuenta es: { $basis }. No es un precio de aquí. Así que la diferencia puede venir de ese dato, no de las ofertas.
price-default-own = El precio por su cuenta es: { $basis }. No es uno que usted tenga por escrito. A su lado, el precio de grupo puede parecer mejor o peor de lo que es. Pida primero un precio propio.
